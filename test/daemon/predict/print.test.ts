import { describe, expect, it } from 'vitest';
import { predict } from '../../../daemon/predict/predict.js';
import { predictionTable } from '../../../daemon/predict/print.js';
import { cabin } from '../design/signal-cabin.js';

const healthy = predictionTable(predict(cabin(), { load: 'typical' }));

describe('a prediction on paper', () => {
  it('has a line for every test point with its limits', () => {
    const line = healthy.split('\n').find((text) => text.startsWith('logic.volts'));
    expect(line?.split(/\s{2,}/)).toEqual([
      'logic.volts',
      '4.75',
      '5.00',
      '5.25',
      'V',
      'at least 4.75 (damage), at most 5.50 (damage)',
    ]);
    expect(healthy).toMatch(/^logic\.case +\d+ +\d+ +\d+ +°C +at most \d+$/m);
  });

  it('fits 100 columns, whatever the names', () => {
    const name = 'a-lamp-rail-with-as-long-a-name-as-fits';
    const long = cabin(['  lamps: #', `  ${name}: #`], ['heatsink: 8 #', 'heatsink: none #']);
    const table = predictionTable(predict(long, { load: 'full' }));
    for (const text of [healthy, table]) {
      expect(Math.max(...text.split('\n').map((line) => line.length))).toBeLessThanOrEqual(100);
    }
  });

  it('says so when there is nothing to say', () => {
    expect(healthy).toContain('Before you switch on\n  Nothing found that would cook or misbehave.');
  });

  it('puts cure and reason below each finding, and the caution last', () => {
    const text = predictionTable(predict(cabin(['heatsink: 8 #', 'heatsink: none #']), { load: 'typical' }));
    expect(text).toMatch(
      /DESTROYS \(heatsink-missing\): The LM317 of lamps .*\n(.*\n)+? {4}Cure: Fit a heatsink .*\n(.*\n)+? {4}From: /,
    );
    expect(text.trimEnd().split('\n').at(-1)).toMatch(/^Mains voltage kills and hot parts burn\./);
  });

  it('shows small ripple with digits that mean something', () => {
    expect(healthy).toMatch(/^lamps\.ripple +0\.000\d+ +0\.000\d+ +0\.00\d+ +V p-p$/m);
  });
});
