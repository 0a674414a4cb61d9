import { describe, expect, it } from 'vitest';
import { predict } from '../../../../daemon/predict/predict.js';
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
