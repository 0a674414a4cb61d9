import { rmSync, statSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { afterEach, expect, it, onTestFinished, vi } from 'vitest';
import { AtTerminal } from '../at-terminal.js';
import { MAIN } from './run-command.js';

const IN_BACKGROUND = fileURLToPath(new URL('../children/in-background.mjs', import.meta.url));
const CABIN = fileURLToPath(
  new URL('../../daemon/design/examples/signal-cabin/signal-cabin.design.yaml', import.meta.url),
);

let terminal: AtTerminal;
afterEach(() => terminal.end());

/** Asks for the session's process and ends it with the test, for a terminal that goes leaves the background alone. */
async function endedByTest(): Promise<void> {
  const [, page = ''] = /The page: (http:\S+)/.exec(terminal.raw) ?? [];
  const holder = (await (await fetch(`${page}holder`)).json()) as { process: number };
  onTestFinished(() => void process.kill(holder.process, 'SIGKILL'));
}

it(
  'a session that is started behind & watches on, and paints over nothing',
  { timeout: 60_000 },
  async () => {
    terminal = new AtTerminal(() => [IN_BACKGROUND, MAIN, 'demo', '--port', '0']);
    await terminal.until(/ALARM/);
    const [, file = ''] = /Recording: (\S+\.ndjson)/.exec(terminal.raw) ?? [];
    onTestFinished(() => rmSync(file, { force: true }));
    await endedByTest();
    expect(terminal.raw).not.toContain('\u001b[0J');
  },
);

it(
  'what is typed for others while one by hand runs in the background does not stop it',
  { timeout: 60_000 },
  async () => {
    terminal = new AtTerminal((folder) => [
      IN_BACKGROUND,
      MAIN,
      'watch',
      CABIN,
      '--recordings',
      folder,
      '--port',
      '0',
    ]);
    await terminal.until(/A line with \? alone says/);
    await endedByTest();
    terminal.press('logic.volts 6.4\n');
    const bytes = (): number => statSync(terminal.recording()).size;
    // Written to when the keys came, and each second after.
    for (let from = bytes(), grown = 0; grown < 3; from = bytes(), grown += 1)
      await vi.waitUntil(() => bytes() > from, { timeout: 10_000 });
  },
);
