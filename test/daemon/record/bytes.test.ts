import { readFile } from 'node:fs/promises';
import { gzipSync } from 'node:zlib';
import { expect, it } from 'vitest';
import { itemsOf } from './open.js';
import { recordSample } from './samples.js';

/** The cabin's meter and boards ten times a second, the meter on two ranges, and a board for the amps. */
function eightChannels(bench: string): string {
  const amps = [
    '  amps:',
    '    driver: text-lines',
    '    link: { serial: /dev/ttyUSB3, baud: 115200 }',
    "    options: { pattern: 'LAMPS {lamps.amps} A LOGIC {logic.amps} A', interval_ms: 100 }",
  ];
  const faster = bench.replace(/interval_ms: \d+/g, 'interval_ms: 100');
  const ripple = 'ripple: { measures: ac-volts, at: reservoir.ripple }';
  return `${faster.replace('      volts:\n', `      ${ripple}\n      volts:\n`)}\n${amps.join('\n')}\n`;
}

it('a reading of eight channels at 10 Hz takes at most 30 bytes, and at most 12 packed, all but the header counted', async () => {
  const file = await recordSample({ name: 'bytes', minutes: 2, bench: eightChannels });
  const items = await itemsOf(file);
  const readings = items.flatMap((item) =>
    item.kind === 'event' && item.event.kind === 'reading' ? [item.event] : [],
  );
  const channels = new Set(readings.map(({ instrument, channel }) => `${instrument}.${channel}`));
  expect(channels.size).toBe(8);
  // Two minutes, ten a second; the meter takes its two ranges in turns.
  expect(readings.length).toBeGreaterThan(8000);
  const bytes = await readFile(file);
  const body = bytes.subarray(bytes.indexOf('\n') + 1);
  expect(body.length / readings.length).toBeLessThanOrEqual(30);
  expect(gzipSync(body).length / readings.length).toBeLessThanOrEqual(12);
}, 60_000);
