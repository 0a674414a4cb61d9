import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { loadDesign } from '../../../daemon/design/load.js';
import { predict } from '../../../daemon/predict/predict.js';

const folder = new URL('../../../daemon/design/examples/level-crossing/', import.meta.url);
const TEXT = readFileSync(new URL('level-crossing.design.yaml', folder), 'utf8');

function predicted(text: string) {
  return predict(loadDesign(text, 'level-crossing.design.yaml'), { load: 'full' });
}

describe('a rail fed from another', () => {
  const { parts, points, advice } = predicted(TEXT);

  // Worked on paper: 7805 and 7812 with 5 mA of their own (Fairchild LM78XX Rev 1.3.0), 0.2 A and 0.6 A of load.
  it('puts its current through both regulators', () => {
    expect(parts['flasher']?.['output_A']).toBeCloseTo(0.2, 12);
    expect(parts['barriers']?.['output_A']).toBeCloseTo(0.6 + 0.2 + 0.005, 12);
    const { drawn_A: drawn = NaN, mean_V: mean = NaN } = parts['reservoir'] ?? {};
    expect(drawn - mean / 2200).toBeCloseTo(0.81, 4);
  });

  it('drops from the rail above it: (12 - 5) x 0.2 + 12 x 0.005 = 1.46 W', () => {
    expect(points['flasher.dissipation']?.nominal).toBeCloseTo(1.46, 9);
    expect(parts['flasher']?.['input_V']).toBeCloseTo(12, 9);
  });

  it('hums no more than its source, far less than fed from the reservoir', () => {
    const direct = predicted(TEXT.replace('from: barriers', 'from: reservoir'));
    const ripple = direct.points['flasher.ripple']?.nominal ?? 0;
    expect(points['flasher.ripple']?.nominal).toBeLessThan(ripple / 100);
  });

  it('the example predicts without anything that destroys', () => {
    expect(advice.filter(({ severity }) => ['destroys', 'misbehaves'].includes(severity))).toEqual([]);
  });
});

// R = 2 ohm at 0.205 A: 0.41 V and 84 mW less for the regulator (Ohm's law).
it('a series resistor takes its share of the heat', () => {
  const plain = predicted(TEXT).parts['flasher'];
  const shared = predicted(TEXT.replace('from: barriers', 'from: barriers\n    series: 2')).parts['flasher'];
  expect(shared?.['series_W']).toBeCloseTo(0.205 ** 2 * 2, 12);
  const less = (plain?.['dissipation_W'] ?? 0) - (shared?.['dissipation_W'] ?? 0);
  expect(less).toBeCloseTo(0.205 ** 2 * 2, 9);
});
