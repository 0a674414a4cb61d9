import { expect, it } from 'vitest';
import { LiveTable } from '../../../daemon/terminal-table/live-table.js';
import { poweredCabin, tick } from '../watch/cabin.js';

/** What a terminal shows after all that was written, by the few control sequences that are used (ECMA-48). */
function shown(written: readonly string[]): string[] {
  let lines = [''];
  for (const [, up, text] of written.join('').matchAll(/\u001b\[(\d+)A\r\u001b\[0J|([^\u001b]+)/g)) {
    if (up !== undefined) lines = [...lines.slice(0, lines.length - 1 - Number(up)), ''];
    else {
      const [first = '', ...rest] = text!.split('\n');
      lines = [...lines.slice(0, -1), (lines.at(-1) ?? '') + first, ...rest];
    }
  }
  return lines;
}

it('paints over itself twice a second at most, and lines stand above it', () => {
  const written: string[] = [];
  const table = new LiveTable({ write: (text) => void written.push(text), columns: 80, rows: 24 });
  const { state } = poweredCabin();
  table.print('Watching.');
  for (const atMs of [250, 500, 750, 1000]) table.onStep(tick(atMs), { ...state, nowMs: atMs }, []);
  expect(written).toHaveLength(3);
  table.print('00:01  ALARM');
  const lines = shown(written);
  expect(lines.slice(0, 2)).toEqual(['Watching.', '00:01  ALARM']);
  expect(lines.filter((line) => line.includes('logic.volts'))).toHaveLength(1);
  expect(lines.at(-1)).toBe('');
});

it('a terminal that takes nothing gets no more tables, but every line', () => {
  const written: string[] = [];
  const screen = {
    write: (text: string) => void written.push(text),
    columns: 80,
    rows: 24,
    writableLength: 0,
  };
  const table = new LiveTable(screen);
  const { state } = poweredCabin();
  const at = (atMs: number): void => table.onStep(tick(atMs), { ...state, nowMs: atMs }, []);
  at(500);
  screen.writableLength = 1;
  at(1000);
  table.print('00:01  ALARM');
  screen.writableLength = 0;
  at(1500);
  expect(written).toHaveLength(3);
  expect(written[1]).toContain('00:01  ALARM');
});
