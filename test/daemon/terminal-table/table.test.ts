import { describe, expect, it } from 'vitest';
import { tableLines } from '../../../daemon/terminal-table/table.js';
import { keepHeard, poweredCabin, reading, tick, Watched } from '../watch/cabin.js';

const SPACE = { columns: 79, lines: 20 };
const hot = () =>
  keepHeard(poweredCabin(), 500, 6000, 'probes t1').feed(
    ...[500, 1500, 2500, 3500, 4500, 5500].map((atMs) => reading(atMs, 'probes t1', 96, 'degC')),
    tick(6000),
  );

describe('the table at the terminal', () => {
  it('has a line for each measured test point, the worst first, in words', () => {
    const lines = tableLines(hot().state, SPACE);
    expect(lines[0]).toMatch(/^00:06 {2}typical load {3}\d alarms? {3}NOT RECORDING$/);
    expect(lines[1]).toMatch(/^outside +logic\.case +96 °C +45 to 65 °C/);
    expect(lines.slice(2).map((line) => line.split(/ {2,}/).slice(0, 2))).toEqual([
      ['inside', 'reservoir.volts'],
      ['inside', 'logic.volts'],
    ]);
  });

  it('says that a point is at its limit before anything else, and never shows a silent one as good', () => {
    const cabin = keepHeard(poweredCabin(), 500, 6000, 'meter volts').feed(
      reading(6000, 'probes t1', 97, 'degC'),
      tick(6100),
    );
    const [, first, second] = tableLines(cabin.state, SPACE);
    expect(first).toMatch(/^at limit +logic\.case +97 °C/);
    expect(second).toMatch(/^silent +logic\.volts/);
  });

  it('fits: 80 columns, as many lines as there are, and the rest is counted', () => {
    for (const columns of [40, 79]) {
      for (const line of tableLines(hot().state, { columns, lines: 20 }))
        expect(line.length).toBeLessThanOrEqual(columns);
    }
    const lines = tableLines(hot().state, { columns: 79, lines: 3 });
    expect(lines).toHaveLength(3);
    expect(lines[2]).toBe('and 2 more, none of them worse');
  });

  it('before anything is measured there is only the line about the session', () => {
    expect(tableLines(new Watched().state, SPACE)).toHaveLength(1);
  });
});
