import type { InstrumentEvent } from '../../drivers/driver.js';
import { memoryLinkPair } from '../../drivers/links/memory.js';
import { systemClock } from '../../drivers/system-clock.js';
import { textLines } from '../../drivers/text-lines/text-lines.js';
import { LINES, againstParser, chunksOf, type ParserRow } from './against-parser.js';
import { fullTable, type LoadRow } from './full-table.js';

export interface SpeedRow extends ParserRow {
  readonly name: string;
}

/** How fast lines become readings, and what a full table of boards costs. */
export async function rows(): Promise<readonly (SpeedRow | LoadRow)[]> {
  const pattern = { pattern: 'T1: {lamps.case} C, T2: {logic.case} C' };
  const one = { pattern: '{logic.volts} V' };
  const fields = { T1: '{lamps.case} C', T2: '{logic.case} C' };
  const nested = { 'cases.T1': '{lamps.case} C', 'rails.logic': '{logic.volts} mV' };
  const inRails = { 'rails.logic': '{logic.volts} mV' };
  return [
    speed('one number a line', one, (n) => `${(5 + n / 1e6).toFixed(4)} V`),
    speed('two numbers a line', pattern, (n) => `T1: ${41 + (n % 90) / 10} C, T2: ${38 + (n % 7)}.5 C`),
    speed('csv, two columns', { format: 'csv', fields, header: 'n,T1,T2' }, (n) => `${n},41.${n % 10},38.5`),
    speed('json, two fields', { format: 'json', fields }, (n) => `{"n":${n},"T1":41.${n % 10},"T2":38.5}`),
    speed('json, two fields in objects', { format: 'json', fields: nested }, (n) => {
      return `{"n":${n},"cases":{"T1":41.${n % 10},"T2":38.5},"rails":{"logic":${5000 + (n % 90)}}}`;
    }),
    speed('json, one field in an object', { format: 'json', fields: inRails }, (n) => {
      return `{"rails": {"logic": ${5000 + (n % 90)}}}`;
    }),
    speed('json, two kinds of lines in turns', { format: 'json', fields: inRails }, (n) => {
      const logic = 5000 + (n % 90);
      return n % 2 === 0
        ? `{"ok":true,"rails":{"logic":${logic}}}`
        : `{"rails":{"logic":${logic}},"list":[1,2]}`;
    }),
    await fullTable('boards', textLines, { pattern: 'U: {volts} V' }, 'line-boards.mjs'),
  ];
}

function speed(name: string, options: unknown, line: (n: number) => string): SpeedRow {
  const chunks = chunksOf(Array.from({ length: LINES }, (_, n) => `${line(n)}\r\n`).join(''));
  return { name, ...againstParser(chunks, () => throughDriver(chunks, options)) };
}

function throughDriver(chunks: readonly Buffer[], options: unknown): void {
  const { link, far } = memoryLinkPair('board');
  let readings = 0;
  const emit = (event: InstrumentEvent): void => void (readings += event.kind === 'reading' ? 1 : 0);
  const channels = textLines.channelsOf(options);
  textLines.start({ instrument: 'board', link, channels, options, clock: systemClock(), emit });
  for (const chunk of chunks) far.send(chunk);
  if (readings < LINES - 1) throw new Error(`the driver gave ${readings} readings`);
}
