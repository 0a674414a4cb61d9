import { describe, expect, it } from 'vitest';
import { predict } from '../../../../daemon/predict/predict.js';
import { changedDesign } from '../../../../daemon/predict/advice/change-design.js';
import type { Advice } from '../../../../daemon/predict/prediction.js';
import { cabin, type Change } from '../../design/signal-cabin.js';
import { example } from '../../design/topologies.js';

function found(finding: string, ...changes: readonly Change[]): Advice | undefined {
  return predict(cabin(...changes), { load: 'typical' }).advice.find((advice) => advice.finding === finding);
}

const LARGE: readonly Change[] = [
  ['capacity_uF: 4700', 'capacity_uF: 47000'],
  ['va: 30', 'va: 300'],
];

describe('the rectifier', () => {
  // ON Semiconductor 1N4001-1N4007: IFSM 30 A. 1.1 x 21 V peak through some 0.1 ohm are far more.
  it('a surge that one diode does not survive, with a stronger one', () => {
    const advice = found('diode-surge', ...LARGE, ['regulation_percent: 12', 'regulation_percent: 7']);
    expect(advice).toMatchObject({ about: 'rectifier', severity: 'destroys', numbers: { surge_A: 30 } });
    expect(advice?.numbers['inrush_A']).toBeGreaterThan(30);
    expect(advice?.cures[0]?.changes[0]?.key).toBe('rectifier.diode');
    expect(found('diode-surge')).toBeUndefined();
  });

  // Textbook: a diode of a half-wave rectifier holds off twice the peak.
  it('reverse volts of a half-wave rectifier are twice those of a bridge', () => {
    const bridge = found('diode-reverse-volts', ['diode: 1N4007', 'diode: 1N5817']);
    const half = found(
      'diode-reverse-volts',
      ['diode: 1N4007', 'diode: 1N5817'],
      ['kind: bridge', 'kind: half-wave'],
    );
    expect(bridge?.numbers['rated_V']).toBe(20);
    const ratio = (half?.numbers['reverse_V'] ?? 0) / (bridge?.numbers['reverse_V'] ?? 1);
    expect(ratio).toBeGreaterThan(1.9);
    expect(ratio).toBeLessThan(2.15);
  });

  // 1N4007: 1 A mean each; half-wave has one for all of it.
  it('a mean current beyond its rating', () => {
    expect(
      found(
        'diode-current',
        ['full: 0.5', 'full: 1.0'],
        ['kind: bridge', 'kind: half-wave'],
        ['va: 30', 'va: 120'],
      ),
    ).toMatchObject({ numbers: { rated_A: 1 } });
  });

  // Textbook: each polarity of a split bridge has two diodes of its own, which take turns; 1N4007: 1 A mean each.
  it('polarities of a split bridge that draw 1.2 A each load no diode with more than 0.6 A', () => {
    const split = (full: number) => {
      const load: Change = ['full: 0.2 }\n    damage', `full: ${full} }\n    damage`];
      const design = example('turntable', ['va: 30', 'va: 300'], load, load);
      return predict(design, { load: 'full' }).advice.find(({ finding }) => finding === 'diode-current');
    };
    expect(split(1.2)).toBeUndefined();
    expect(split(2.2)?.numbers['mean_A']).toBeCloseTo(2.2, 1);
  });
});

describe('the fuse', () => {
  // 30 VA / 230 V = 0.13 A; 1.5 to 2 times that (common practice).
  it('is offered where none is written', () => {
    const fuse = found('fuse', ['  fuse_amps: 0.315 # primary, slow\n', '']);
    expect(fuse?.severity).toBe('ready');
    expect(fuse?.numbers['fuse_A']).toBeGreaterThanOrEqual((1.5 * 30) / 230);
    expect(fuse?.numbers['fuse_A']).toBeLessThanOrEqual((2.2 * 30) / 230);
    expect(fuse?.cure).toContain('local codes');
  });

  it('is refused where it is far too large, or too small', () => {
    expect(found('fuse-large', ['fuse_amps: 0.315', 'fuse_amps: 2'])).toMatchObject({
      severity: 'misbehaves',
    });
    expect(found('fuse-small', ['fuse_amps: 0.315', 'fuse_amps: 0.1'])).toMatchObject({ severity: 'note' });
  });
});

describe('what is charged and what is hot', () => {
  // t = R C ln(v0 / v1), textbook.
  it('a reservoir without a bleed resistor gets one that empties it within a minute', () => {
    const advice = found('bleed-missing', [
      '  bleed: 4700 # empties the capacitor after switching off, ohm',
      '',
    ]);
    const ohms = Number(advice?.cures[0]?.changes[0]?.value);
    expect(ohms * 4700e-6 * Math.log(advice?.numbers['from_V'] ?? NaN)).toBeLessThanOrEqual(60);
    expect(advice?.cure).toContain('Measure it before you touch');
  });

  // A capacitor behind a filter's resistor flows back through it: both empty through the same bleed resistor.
  it("a filter's capacitor takes its time too", () => {
    const rc: Change = ['rails:\n', 'filter: { kind: rc, resistor: 2, capacity_uF: 4700 }\nrails:\n'];
    const { parts } = predict(cabin(rc), { load: 'typical' });
    const { peak_V: peak = NaN, safe_after_with_bleed_s: seconds } = parts['reservoir'] ?? {};
    expect(seconds).toBeCloseTo(4700 * 9400e-6 * Math.log(peak), 6);
    expect(found('bleed-slow', rc, ['bleed: 4700', 'bleed: 6800'])?.numbers['safe_after_s']).toBeGreaterThan(
      6800 * 9400e-6 * Math.log(peak),
    );
  });

  it('a slow one is told by its seconds', () => {
    const advice = found('bleed-slow', ['bleed: 4700', 'bleed: 47000']);
    expect(advice?.numbers['safe_after_s']).toBeCloseTo(
      47000 * 4700e-6 * Math.log(advice?.numbers['from_V'] ?? NaN),
      6,
    );
  });

  // EN 563 / ISO 13732-1: smooth bare metal of 70 degrees C burns within about a second.
  it('a case of more than 70 degrees C burns', () => {
    expect(found('touch-temperature')?.numbers['burns_degC']).toBe(70);
    expect(
      found(
        'touch-temperature',
        ['heatsink: 8 #', 'heatsink: 1 #'],
        ['heatsink: 8\n    load:\n      idle: 0.08', 'heatsink: 1\n    load:\n      idle: 0.08'],
      ),
    ).toBeUndefined();
  });
});

describe('a regulator that fails short', () => {
  it('is told by what the load would see and survives, with a clamp between', () => {
    const advice = found('regulator-short');
    expect(advice).toMatchObject({ about: 'lamps', severity: 'note', numbers: { survives_V: 14 } });
    expect(advice?.numbers['seen_V']).toBeGreaterThan(20);
    expect(advice?.cure).toMatch(/clamp of 13 V/);
  });

  it('in a cascade shows the rail above', () => {
    const { advice } = predict(example('level-crossing'), { load: 'full' });
    const flasher = advice.find(({ finding, about }) => finding === 'regulator-short' && about === 'flasher');
    expect(flasher?.numbers['seen_V']).toBeCloseTo(12, 0);
  });
});

describe('a switching module that came without a word on its cooling', () => {
  // 5 V x 4 A x (1 / 0.8 - 1) are 5 W; a bare module takes some 40 K/W (from memory): 200 K.
  it('cooks, and the heatsink that it is offered holds', () => {
    const REGULATOR = `    regulator: '7805'
    from: barriers # not from the reservoir
    cooling: { heatsink: 15 }
    load: { idle: 0.03, typical: 0.1, full: 0.2 }`;
    const module = `    regulator: { kind: switching, volts: 5, minimum_input: 7, efficiency: [[1, 80]] }
    load: { idle: 0.03, typical: 0.1, full: 4 }`;
    const design = example('level-crossing', [REGULATOR, module], ['va: 40', 'va: 160']);
    const cooks = (changed = design) =>
      predict(changed, { load: 'full' }).advice.find(
        ({ finding, about }) => finding === 'heatsink-missing' && about === 'flasher',
      );
    const [cure] = cooks()?.cures ?? [];
    expect(cure?.words).toMatch(/^fit a heatsink/);
    expect(cooks(changedDesign(design, cure?.changes ?? []))).toBeUndefined();
  });
});

describe('the minimum load', () => {
  // ST DS0422: a 7805 takes some 5 mA for itself, which are all that the 7812 above it needs.
  it('counts what an idle rail feeds', () => {
    const idle: Change = ['idle: 0.02,', 'idle: 0,'];
    const fed: Change = ['idle: 0.03,', 'idle: 0.001,'];
    const { advice } = predict(example('level-crossing', idle, fed), { load: 'full' });
    expect(advice.filter(({ finding }) => finding === 'minimum-load').map(({ about }) => about)).toEqual([
      'flasher',
    ]);
  });
});

describe('resistors', () => {
  // P = I^2 R = 0.5^2 x 4.7 = 1.2 W.
  it('a series resistor that burns, and one that is only too hot', () => {
    const series = (watts: number) =>
      found('series-resistor-heat', [
        '    r1: 240',
        `    series: { ohms: 4.7, watts: ${watts} }\n    r1: 240`,
      ]);
    expect(series(1)).toMatchObject({ about: 'lamps', severity: 'destroys' });
    expect(series(2)).toMatchObject({ severity: 'note' });
    expect(series(5)).toBeUndefined();
  });

  it('a plain one is told what to buy', () => {
    expect(found('series-resistor', ['    r1: 240', '    series: 4.7\n    r1: 240'])?.sentence).toMatch(
      /a 3 W part/,
    );
  });
});
