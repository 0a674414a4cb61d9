import { describe, expect, it } from 'vitest';
import type { Design } from '../../../../daemon/design/design.js';
import { changedDesign } from '../../../../daemon/predict/advice/change-design.js';
import { predict } from '../../../../daemon/predict/predict.js';
import type { Advice } from '../../../../daemon/predict/prediction.js';
import { cabin, type Change } from '../../design/signal-cabin.js';
import { example } from '../../design/topologies.js';

const BARE_LAMPS: Change = ['heatsink: 8 # K/W', 'heatsink: none # K/W'];
const BARE_LOGIC: Change = [
  'heatsink: 8\n    load:\n      idle: 0.08',
  'heatsink: none\n    load:\n      idle: 0.08',
];

const AILING: readonly (readonly [name: string, design: Design])[] = [
  ['bare lamps regulator', cabin(BARE_LAMPS)],
  ['both bare', cabin(BARE_LAMPS, BARE_LOGIC)],
  ['a reservoir of 470 uF', cabin(['capacity_uF: 4700', 'capacity_uF: 470'])],
  ['a winding of 12 V', cabin(['volts: 15 #', 'volts: 12 #'])],
  ['a capacitor of 16 V', cabin(['working_volts: 35', 'working_volts: 16'])],
  ['a 15 VA transformer', cabin(['va: 30', 'va: 15'])],
  ['a ripple rating of 0.5 A', cabin(['ripple_amps: 2.5', 'ripple_amps: 0.5'])],
  ['no idle load', cabin(['idle: 0.05', 'idle: 0'])],
  [
    'too hot for any heatsink',
    cabin(['volts: 15 #', 'volts: 22 #'], ['va: 30', 'va: 200'], ['full: 0.5', 'full: 1.4']),
  ],
  [
    'a bare crane regulator',
    example('goods-crane', ['mica-greased, heatsink: back-wall', 'mica-greased, heatsink: none']),
  ],
];

function adviceOn(design: Design): readonly Advice[] {
  return predict(design, { load: 'full' }).advice;
}

function isWrong({ severity }: Advice): boolean {
  return severity === 'destroys' || severity === 'misbehaves';
}

describe('every cure that is offered', () => {
  it.each(AILING)('%s: is gone with it, and nothing else goes wrong', (_name, design) => {
    const before = adviceOn(design);
    const offered = before.flatMap((advice) => advice.cures.map((cure) => ({ advice, cure })));
    expect(offered.length).toBeGreaterThan(0);
    const known = new Set(before.filter(isWrong).map(({ finding, about }) => `${finding} ${about}`));
    for (const { advice, cure } of offered) {
      const after = adviceOn(changedDesign(design, cure.changes));
      const left = after.filter(({ finding, about }) => finding === advice.finding && about === advice.about);
      expect(left, cure.words).toEqual([]);
      const fresh = after.filter(isWrong).map(({ finding, about }) => `${finding} ${about}`);
      expect(
        fresh.filter((each) => !known.has(each)),
        cure.words,
      ).toEqual([]);
    }
  });

  // P = (Vin - Vout) I: three more volts at half an ampere are 1.5 W more.
  it('says what it makes worse: a higher winding heats the regulators', () => {
    const [dropout] = adviceOn(cabin(['volts: 15 #', 'volts: 12 #'])).filter(
      ({ finding }) => finding === 'dropout-at-low-mains',
    );
    const winding = dropout?.cures.find(({ changes }) => changes[0]?.key === 'transformer.volts');
    expect(
      winding?.worsens.some((words) => /junction of (lamps|logic) goes from \d+ to \d+ °C/.test(words)),
    ).toBe(true);
    expect(dropout?.cure).toContain('but then');
  });

  it('a resistor of the E12 series and a rating that is sold, of at least twice its heat', () => {
    const [hot] = adviceOn(cabin(['heatsink: 8 #', 'heatsink: 14 #']));
    const series = hot?.cures.find(({ changes }) => changes[0]?.key === 'rails.lamps.series')?.changes[0]
      ?.value;
    const { ohms = NaN, watts = NaN } = series as { ohms: number; watts: number };
    // IEC 60063, E12.
    expect([10, 12, 15, 18, 22, 27, 33, 39, 47, 56, 68, 82]).toContain(
      Number((ohms / 10 ** (Math.floor(Math.log10(ohms)) - 1)).toPrecision(3)),
    );
    expect(watts).toBeGreaterThanOrEqual(2 * ohms * 0.5 ** 2);
  });

  it('leaves the design that it was asked about as it is', () => {
    const design = cabin(BARE_LAMPS);
    const copy = structuredClone(design);
    adviceOn(design);
    changedDesign(design, [{ key: 'rails.lamps.cooling.heatsink', value: 3 }]);
    expect(design).toEqual(copy);
  });
});
