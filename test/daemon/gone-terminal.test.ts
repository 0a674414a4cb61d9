import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterEach, describe, expect, it, vi } from 'vitest';
import { AtTerminal } from '../at-terminal.js';
import { MAIN } from './run-command.js';

const END_TOLD = fileURLToPath(new URL('../children/end-told.mjs', import.meta.url));
const CABIN = fileURLToPath(
  new URL('../../daemon/design/examples/signal-cabin/signal-cabin.design.yaml', import.meta.url),
);

let terminal: AtTerminal;
afterEach(() => terminal.end());

describe('a terminal whose window is closed', () => {
  it.each([
    ['watch', /A line with \? alone says/, 0],
    ['powerup', /What stands on the primary fuse/, 1],
  ])('ends a %s in order, and not by a crash', { timeout: 60_000 }, async (command, first, code) => {
    const endOf = (folder: string): string => join(folder, 'end.json');
    terminal = new AtTerminal((folder) => [
      END_TOLD,
      endOf(folder),
      MAIN,
      command,
      CABIN,
      '--recordings',
      folder,
      '--port',
      '0',
    ]);
    await terminal.until(first);
    await terminal.close();
    const end = endOf(terminal.folder);
    await vi.waitUntil(() => existsSync(end) && readFileSync(end, 'utf8') !== '', { timeout: 20_000 });
    expect(JSON.parse(readFileSync(end, 'utf8'))).toEqual([code, null]);
    expect(readFileSync(terminal.recording(), 'utf8')).toMatch(
      /\n\{"kind":"end".*\}\n\{"kind":"seal".*\}\n$/,
    );
  });
});
