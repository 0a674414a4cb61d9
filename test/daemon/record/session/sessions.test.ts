import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { compareSessions, differenceWords } from '../../../../daemon/record/session/compare-sessions.js';
import { readHistory } from '../../../../daemon/record/session/history.js';
import type { OtherDesign } from '../../../../daemon/record/other-design.js';
import { rejudgedWords, rewalkedWords } from '../../../../daemon/record/session/rejudge.js';
import { eventfulEvents, liveSession } from '../live-session.js';
import { caseTemperature, PLAN, PROBES_ON, volts } from '../signal-cabin.js';
import { PREDICTION } from '../../watch/cabin.js';
import { PROCEDURE } from '../../watch/procedure/walk.js';
import { recorded, walked } from '../recorded-walk.js';
import { temporaryFolder } from '../temporary-folder.js';

const sample = (name: string) =>
  fileURLToPath(new URL(`../../../../recordings/${name}.ndjson`, import.meta.url));

/** Two minutes at steady values, off in the last twenty seconds. */
async function steady(logicVolts: number, logicCase: number, onAtMs: number) {
  const events = [...PROBES_ON];
  for (let atMs = 0; atMs <= onAtMs + 120_000; atMs += 500) {
    const isOn = atMs >= onAtMs && atMs < onAtMs + 100_000;
    events.push(volts(atMs, isOn ? logicVolts : 0));
    if (atMs % 1000 === 0) events.push(caseTemperature(atMs, isOn ? logicCase : 22));
  }
  return readHistory((await liveSession(await temporaryFolder(), events)).file);
}

describe('comparing two sessions', () => {
  it('aligns them at the first volts and tells what means something', async () => {
    const before = await steady(5.0, 129, 3000);
    const after = await steady(5.01, 88, 20_000);
    expect([before.powerOnAtMs, after.powerOnAtMs]).toEqual([3000, 20_000]);
    // 0.5 % and 2 counts of 10 mV of the meter: 45 mV on each, so 10 mV mean nothing. 129 - 88 = 41.
    expect(compareSessions(before, after).differences.map(differenceWords)).toEqual([
      'logic.volts: settled value unchanged (5.00 V, then 5.01 V)',
      'logic.case: settled temperature down by 41 K (129 °C, then 88 °C); highest 129 °C, then 88 °C',
    ]);
  });

  it('compares a temperature that has not settled at the same time after power-on', async () => {
    const [healthy, bare] = [
      await readHistory(sample('healthy')),
      await readHistory(sample('heatsink-missing')),
    ];
    const words = compareSessions(healthy, bare).differences.map(differenceWords);
    expect(words.find((line) => line.startsWith('logic.case'))).toMatch(
      /temperature 1:59 after power-on up by 1\d\d K/,
    );
    expect(words.find((line) => line.startsWith('logic.volts'))).toMatch(/not steady afterwards/);
    expect(words.find((line) => line.startsWith('lamps.volts'))).toMatch(/unchanged/);
  });
});

const BY_ITSELF: OtherDesign = {
  prediction: PLAN.prediction,
  supply: { rippleRate: 'twice-mains', rails: [] },
  procedure: null,
  predictionFor: () => PLAN.prediction,
};

describe('judging a session by another design', () => {
  it('says what would have stayed inside, and by what change', async () => {
    const { file } = await liveSession(await temporaryFolder(), eventfulEvents());
    const then = await readHistory(file);
    const cooler = PLAN.prediction.points['logic.case'];
    if (cooler === undefined) throw new Error('the plan has no logic.case');
    const points = { ...PLAN.prediction.points, 'logic.case': { ...cooler, low: 30, typical: 38, high: 44 } };
    const prediction = { ...PLAN.prediction, points };
    const now = await readHistory(file, { ...BY_ITSELF, prediction });
    expect(rejudgedWords(then, now, ['rails.logic.cooling.heatsink'])).toContain(
      "With this design's rails.logic.cooling.heatsink logic.case would have stayed inside: it predicts 30 to 44 °C, its limit is 100 °C. The session reached 120 °C.",
    );
  });

  it('by its own design says nothing new of what was inside', async () => {
    const history = await readHistory(sample('healthy'));
    expect(rejudgedWords(history, history, [])).toEqual([]);
  });

  it('walks by that design’s own steps, and says where it would have stopped', async () => {
    const file = await recorded(walked().events);
    const then = await readHistory(file);
    expect(then.procedure?.steps.find(({ id }) => id === 'rails')?.status).toBe('done');
    const against = { ...BY_ITSELF, prediction: PREDICTION };
    const same = await readHistory(file, { ...against, procedure: PROCEDURE });
    expect(same.procedure).toEqual(then.procedure);
    expect(rewalkedWords(then, same)).toEqual([]);
    const steps = PROCEDURE.steps.map((step) =>
      step.id === 'rails'
        ? { ...step, bands: { 'logic.volts': { low: 5.5, typical: 5.6, high: 5.7 } } }
        : step,
    );
    const now = await readHistory(file, { ...against, procedure: { ...PROCEDURE, steps } });
    expect(rewalkedWords(then, now)).toEqual([
      'The power-up, step rails: done then, failed by this design. Logic rail: 5.00 V where 5.50 to 5.70 V is expected.',
    ]);
    expect(now.procedure?.steps.find(({ id }) => id === 'soak')?.status).toBe('waiting');
  });

  it('says which step that design has not', async () => {
    const then = await readHistory(await recorded(walked().events));
    const procedure = { ...PROCEDURE, steps: PROCEDURE.steps.slice(0, 2) };
    const now = await readHistory(then.file, { ...BY_ITSELF, prediction: PREDICTION, procedure });
    expect(rewalkedWords(then, now)).toEqual([
      'The power-up has no step soak by this design; it was overridden then.',
    ]);
  });
});
