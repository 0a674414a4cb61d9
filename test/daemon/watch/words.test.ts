import { describe, expect, it } from 'vitest';
import type { AlarmCause } from '../../../daemon/watch/alarm.js';
import { alarmWords } from '../../../daemon/watch/words.js';
import { CASE_RATING, LOGIC_HIGH, LOGIC_LOW, PREDICTION } from './cabin.js';

const hot: AlarmCause = {
  kind: 'over-limit',
  point: 'logic.case',
  value: 104.2,
  unit: 'degC',
  limit: CASE_RATING,
};
const struck: AlarmCause = {
  kind: 'over-limit',
  point: 'logic.volts',
  value: 7.61,
  unit: 'V',
  limit: LOGIC_HIGH,
};
const EVERY: readonly AlarmCause[] = [
  hot,
  struck,
  { ...struck, value: 4.1, limit: LOGIC_LOW },
  { kind: 'outside-prediction', point: 'logic.volts', value: 5.3, unit: 'V', low: 4.9, high: 5.1 },
  { kind: 'outside-prediction', point: 'logic.case', value: 80, unit: 'degC', low: 45, high: 65 },
  {
    kind: 'heading-over-limit',
    point: 'logic.case',
    value: 61,
    unit: 'degC',
    limit: CASE_RATING,
    settled: { low: 120, typical: 131, high: 143 },
    inS: { low: 140, typical: 161, high: 190 },
  },
  { kind: 'sensor-lifted', point: 'logic.case', instrument: 'probes', channel: 't1' },
  {
    kind: 'stuck-reading',
    point: 'logic.case',
    value: 54.2,
    unit: 'degC',
    instrument: 'probes',
    channel: 't1',
  },
  { kind: 'stale', instrument: 'meter', channel: 'volts', point: 'logic.volts', silentMs: 1600 },
  { kind: 'stale', instrument: 'meter', channel: 'volts', point: null, silentMs: 1600 },
  { kind: 'overload', instrument: 'meter', channel: 'volts', point: 'logic.volts' },
  { kind: 'instrument-lost', instrument: 'meter', why: 'unplugged' },
  { kind: 'not-recording', why: 'the disk is full' },
];

describe('what an alarm says', () => {
  it('of a part that is too hot', () => {
    const { sentence, spoken, cure } = alarmWords(hot, PREDICTION);
    expect(sentence).toBe('Logic regulator case: 104 °C, over its limit of 97 °C (junction at 125 °C).');
    expect(spoken).toBe('logic case, one hundred and four degrees, over its limit: switch off');
    expect(cure).toMatch(/^Switch off\. Fit the heatsink or a bigger one before trying again\./);
  });

  it('of a part that stays cold: what to check, and that it may be hot all the same', () => {
    const cold = {
      kind: 'outside-prediction',
      point: 'logic.case',
      value: 26,
      unit: 'degC',
      low: 45,
      high: 65,
    } as const;
    const { sentence, cure } = alarmWords(cold, PREDICTION);
    expect(sentence).toBe('Logic regulator case: 26 °C, below the 45 to 65 °C that the design predicts.');
    expect(cure).toMatch(
      /^By now it should be warm\. .*the probe sits on the part.*may be hot and its tab live\.$/,
    );
  });

  it('of a rail that is too high: the charged reservoir is named where the person acts', () => {
    const { sentence, spoken, cure } = alarmWords(struck, PREDICTION);
    expect(sentence).toBe('Logic rail: 7.61 V, over its limit of 5.50 V (what the logic load survives).');
    expect(spoken).toBe('logic volts, seven point six one volts, over its limit: switch off');
    expect(cure).toMatch(/pull the plug\. The reservoir stays charged/);
  });

  it('of a value that rounds to its limit', () => {
    expect(alarmWords({ ...struck, value: 5.501 }, PREDICTION).sentence).toContain(
      '5.50 V, at its limit of 5.50 V',
    );
  });

  it('of a value outside what is predicted', () => {
    expect(EVERY.slice(3, 5).map((cause) => alarmWords(cause, PREDICTION).sentence)).toEqual([
      'Logic rail: 5.30 V, above the 4.90 to 5.10 V that the design predicts.',
      'Logic regulator case: 80 °C, above the 45 to 65 °C that the design predicts.',
    ]);
  });

  it('of a part that will be too hot: where it goes, when, and what to do', () => {
    const { sentence, spoken, cure } = alarmWords(EVERY[5]!, PREDICTION);
    expect(sentence).toBe(
      'Logic regulator case: 61 °C, heading for 131 °C (120 to 143 °C); it reaches its limit of 97 °C in 2 min 40 s (junction at 125 °C).',
    );
    expect(spoken).toBe('logic case is heading over its limit, three minutes left: switch off');
    expect(cure).toMatch(/^Switch off\. Fit the heatsink/);
  });

  it('of an instrument that went away', () => {
    expect(
      alarmWords({ kind: 'instrument-lost', instrument: 'meter', why: 'unplugged' }, PREDICTION),
    ).toEqual({
      sentence: 'The instrument meter is not there: unplugged. Nothing that it measures is known now.',
      // Named as what it is: a board called “rails” isn't the rails.
      spoken: 'instrument meter lost',
      cure: 'Check its cable; it is looked for every second.',
    });
  });

  it('of a point that nothing predicts, by its id', () => {
    expect(alarmWords({ ...struck, point: 'bell.volts' }, PREDICTION).sentence).toMatch(/^Bell\.volts: /);
  });
});

it.each(EVERY.map((cause) => [cause.kind, cause] as const))(
  '%s: whole sentences, a short call, a cure',
  (_, cause) => {
    const { sentence, spoken, cure } = alarmWords(cause, PREDICTION);
    expect(sentence).toMatch(/^[A-Za-z].*\.$/);
    expect(spoken).not.toMatch(/\d/);
    expect(spoken.split(' ').length).toBeLessThan(16);
    expect(cure).toMatch(/^[A-Z].*\.$/);
    expect(`${sentence} ${cure}`).not.toMatch(/undefined|NaN|null|safety/);
  },
);
