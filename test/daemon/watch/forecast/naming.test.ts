import { describe, expect, it } from 'vitest';
import type { Change } from '../../../../daemon/watch/forecast/change.js';
import { NOT_FOLLOWED } from '../../../../daemon/watch/forecast/follow-state.js';
import { followTemperature } from '../../../../daemon/watch/forecast/follow.js';
import { NOTHING_KNOWN } from '../../../../daemon/watch/forecast/prior.js';
import { normalNoise } from '../random.js';
import { warmUp, type Stretch } from './ladder.js';

const ON: Stretch = { startS: 0, powerW: 8, airC: 22, convection: 1, event: null, isLifted: false };
const CHANGED_S = 900;

/** What is said within half a minute of a change, of a TO-220 on a heatsink of 7 K/W, a reading a second in tenths. */
function namesOf(caseToSink: number, change: Partial<Stretch>, seed: number): readonly Change[] {
  const body = { caseJPerK: 1.5, sinkJPerK: 60, caseToSink, lossW: (riseK: number) => riseK / 7 };
  const stretches = [ON, { ...ON, startS: CHANGED_S, ...change }];
  const { read } = warmUp(body, stretches, 3, 15, CHANGED_S + 30, 1);
  const noise = normalNoise(seed);
  const context = { prior: NOTHING_KNOWN, limits: [150], resolutionK: 0.1 };
  const names = new Set<Change>();
  let state = NOT_FOLLOWED;
  for (const [second, celsius] of read.entries()) {
    const reading = Math.round(10 * (celsius + 0.1 * noise())) / 10;
    const step = followTemperature(state, 1000 * second, reading, context);
    state = step.state;
    if (step.news !== null && step.news.change !== null) names.add(step.news.change);
  }
  return [...names];
}

// By ladder.ts, whose equations have nothing of the forecast's: the case falls by 8 W times this at once, 4 to 12 K of some 60.
describe.each([0.5, 1, 1.5])('a case that stands %f K/W over its heatsink (seeds 1 to 3)', (caseToSink) => {
  it.each([
    ['without power', { powerW: 0 }, 'switched-off'],
    ['with 45 % of it', { powerW: 3.6 }, 'heats-less'],
    ['with half as much again', { powerW: 12 }, 'heats-more'],
    ['whose probe fell off', { isLifted: true }, 'sensor-lifted'],
  ] as const)('is told %s', (_, change, name) => {
    for (const seed of [1, 2, 3]) expect(namesOf(caseToSink, change, seed)).toEqual([name]);
  });
});
