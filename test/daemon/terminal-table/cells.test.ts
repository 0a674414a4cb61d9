import { describe, expect, it } from 'vitest';
import { bandCell, goingCell, shortValue } from '../../../daemon/terminal-table/cells.js';

const heading = (low: number, typical: number, high: number, inS: number | null, probability = 0.9) => ({
  settled: { low, typical, high },
  timeConstantS: { low: 100, typical: 200, high: 300 },
  crossings: [
    { limit: 100, probability, inS: inS === null ? null : { low: inS / 2, typical: inS, high: inS * 2 } },
  ],
});

it('writes values as the trade does', () => {
  expect(shortValue(0.038, 'Vpp')).toBe('38 mVpp');
  expect(shortValue(1.25, 'Arms')).toBe('1.25 Arms');
});

it('says the unit of a band once', () => {
  expect(bandCell({ low: 4.9, high: 5.1, unit: 'V' })).toBe('4.90 to 5.10 V');
  expect(bandCell({ low: 0.8, high: 1.4, unit: 'Vpp' })).toBe('0.80 to 1.40 Vpp');
});

describe('where a temperature is going', () => {
  it('with the time that is left before a limit', () => {
    expect(goingCell(heading(120, 131, 143, 160), 71)).toBe('-> 131 °C, 2:40 left');
  });

  it('without it where no limit is likely', () => {
    expect(goingCell(heading(70, 75, 80, null, 0.01), 60)).toBe('-> 75 °C');
  });

  it.each([
    ['nothing is forecast', null],
    ['it could be anything', heading(60, 100, 160, null)],
  ])('nothing where %s', (_, forecast) => {
    expect(goingCell(forecast, 40)).toBe('');
  });

  it('says when it has arrived', () => {
    expect(goingCell(heading(74, 75, 76, null, 0), 74)).toBe('settled');
  });
});
