import { copyFileSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout as passing } from 'node:timers/promises';
import { fileURLToPath } from 'node:url';
import { afterEach, it } from 'vitest';
import { AtTerminal } from '../../at-terminal.js';
import { MAIN } from '../run-command.js';

const IN_BACKGROUND = fileURLToPath(new URL('../../children/in-background.mjs', import.meta.url));
const HEALTHY = fileURLToPath(new URL('../../../recordings/healthy.ndjson', import.meta.url));
const SOAK = fileURLToPath(new URL('../../../recordings/eight-hour-soak.ndjson.gz', import.meta.url));

let terminal: AtTerminal;
afterEach(() => terminal.end());

it.each(['while it plays', 'while it is paused'])(
  'a key that comes while another one is carried out counts, %s',
  { timeout: 60_000 },
  async (when) => {
    // A copy, for what a replay keeps to be faster goes beside it.
    terminal = new AtTerminal((folder) => {
      copyFileSync(SOAK, join(folder, 'soak.ndjson.gz'));
      return [MAIN, 'replay', join(folder, 'soak.ndjson.gz'), '--from', '28200'];
    });
    await terminal.until(/Session of/);
    terminal.press(' ');
    await terminal.until(/paused/);
    if (when === 'while it plays') terminal.press(' ');
    // Going back takes longer than from one key to the next, and keys that come at once are one.
    await passing(50);
    terminal.press('\u001b[D');
    await passing(5);
    terminal.press('q');
    await terminal.until(/CODE \d/, 5000);
  },
);

it.each([
  ['', []],
  [' from a moment', ['--from', '60']],
])('a replay%s that is started behind & goes on to its end', { timeout: 60_000 }, async (_, from) => {
  terminal = new AtTerminal(() => [IN_BACKGROUND, MAIN, 'replay', HEALTHY, '--speed', '10000', ...from]);
  await terminal.until(/End: .*\n[^]*CODE/, 20_000);
});
