import { PassThrough } from 'node:stream';
import { expect, it } from 'vitest';
import { keysIn, readTypedLines } from '../../daemon/terminal-input.js';

/** Lines that are read from these chunks. */
async function linesOf(...chunks: readonly string[]): Promise<string[]> {
  const input = Object.assign(new PassThrough(), { unref: () => undefined });
  const lines: string[] = [];
  const stop = readTypedLines(input as unknown as NodeJS.ReadStream, (line) => void lines.push(line.trim()));
  for (const chunk of chunks) {
    input.write(chunk);
    await new Promise((resolve) => setImmediate(resolve));
  }
  stop();
  return lines;
}

it('a person’s empty line is a line, however it is cut and ended', async () => {
  expect(await linesOf('\n', '5.02\n', '\n\n', '1')).toEqual(['', '5.02', '', '']);
  expect(await linesOf('\r\n\r\n', 'a\r\n')).toEqual(['', '', 'a']);
  expect(await linesOf('5.0', '2', '\n')).toEqual(['5.02']);
});

it('what is no text is one line of junk', async () => {
  expect(await linesOf('A'.repeat(100_000), '\n5.02\n')).toEqual(['(no text)', '5.02']);
});

it('an arrow or function key is none, a lone Escape is one', () => {
  expect(keysIn('a\u001b[A\u001bOP\u001b[15~b')).toEqual(['a', 'b']);
  expect(keysIn('\u001b')).toEqual(['\u001b']);
});
