import { describe, expect, it } from 'vitest';
import { heatChangeWords } from '../../../daemon/watch/heat-change-words.js';
import type { WatchPlan } from '../../../daemon/watch/plan.js';
import { beginWatch, watch } from '../../../daemon/watch/watch.js';
import { caseTemperature, PLAN } from '../serve/cabin.js';
import { normalNoise } from './random.js';

const AMPS = 'transformer.amps';
const PLAN_WITH_CLAMP: WatchPlan = {
  prediction: {
    ...PLAN.prediction,
    points: {
      ...PLAN.prediction.points,
      [AMPS]: { ...PLAN.prediction.points['logic.volts']!, id: AMPS, unit: 'Arms', limits: [] },
    },
  },
  channels: [...PLAN.channels, { instrument: 'clamp', channel: 'amps', intervalMs: 1000 }],
};

interface Body {
  readonly watts: number;
  readonly airKPerW: number;
}

const CHANGE_S = 900;
/** Of a TO-220 with its spreader and of a small heatsink, and what lies between them (common practice). */
const [CASE_J_PER_K, SINK_J_PER_K, CASE_TO_SINK_K_PER_W] = [4, 40, 1.5];

/** Two heat capacities in a chain, integrated by Euler's method in tenths of a second; what is told with its time. */
function told(before: Body, after: Body, isClamped: boolean): readonly string[] {
  let state = beginWatch(isClamped ? PLAN_WITH_CLAMP : PLAN);
  const noise = normalNoise(9);
  let [caseC, sinkC] = [22, 22];
  const words: string[] = [];
  const happen = (event: Parameters<typeof watch>[1]): void => {
    const result = watch(state, event);
    state = result.state;
    for (const effect of result.effects) {
      const said = effect.kind === 'forecast' ? heatChangeWords(effect, state) : null;
      if (said !== null) words.push(said);
    }
  };
  const places = [
    ['thermometer', 't1', 'logic.case'],
    ['clamp', 'amps', AMPS],
  ] as const;
  for (const [instrument, channel, point] of places.slice(0, isClamped ? 2 : 1)) {
    happen({ kind: 'probe', atMs: 0, instrument, channel, point });
  }
  for (let second = 1; second < CHANGE_S + 120; second += 1) {
    const { watts, airKPerW } = second < CHANGE_S ? before : after;
    for (let i = 0; i < 10; i += 1) {
      const across = (caseC - sinkC) / CASE_TO_SINK_K_PER_W;
      caseC += (0.1 * (watts - across)) / CASE_J_PER_K;
      sinkC += (0.1 * (across - (sinkC - 22) / airKPerW)) / SINK_J_PER_K;
    }
    happen(caseTemperature(1000 * second, Math.round(10 * (caseC + 0.05 * noise())) / 10));
    if (!isClamped) continue;
    const value = Math.round(1000 * watts * (0.3 + 0.0003 * noise())) / 1000;
    happen({
      kind: 'reading',
      atMs: 1000 * second,
      instrument: 'clamp',
      channel: 'amps',
      value,
      unit: 'Arms',
    });
  }
  return words;
}

const OPEN = { watts: 3, airKPerW: 9 };

describe('a temperature that leaves its curve', () => {
  it('under a lid, at a current that is seen to stay, is cooled worse', () => {
    const [first] = told(OPEN, { ...OPEN, airKPerW: 16 }, true);
    expect(first).toBe(
      'logic regulator case is cooled worse than before, at the same current (lid closed, fan stopped, heatsink loose?)',
    );
  });

  it('under a fan, at a current that is seen to stay, is cooled better', () => {
    const [first] = told(OPEN, { ...OPEN, airKPerW: 5 }, true);
    expect(first).toContain('is cooled better than before, at the same current');
  });

  it('may have either cause where nobody measures the current, or the current changed', () => {
    expect(told(OPEN, { ...OPEN, airKPerW: 16 }, false)[0]).toContain('(more load, or cooled worse)');
    expect(told(OPEN, { ...OPEN, watts: 4.5 }, true)[0]).toContain('(more load, or cooled worse)');
  });

  it('that goes on as it was is not spoken of', () => {
    expect(told(OPEN, OPEN, true)).toEqual([]);
  });
});
