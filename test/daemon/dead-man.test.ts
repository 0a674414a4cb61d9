import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it, onTestFinished, vi } from 'vitest';
import { instrumentPort } from '../../../drivers/simulated/instrument-port.js';
import { openPty } from '../../../drivers/simulated/pty.js';
import { relayBoardDevice } from '../../../drivers/simulated/relay-board-device.js';
import { systemClock } from '../../../drivers/system-clock.js';

const CHILD = fileURLToPath(new URL('./children/hold-relay.mjs', import.meta.url));

describe.skipIf(process.platform === 'win32')('a relay board on a pseudo-terminal', () => {
  it('is held closed over many times its dead-man time, and opens when the daemon is killed', async () => {
    const folder = await mkdtemp(join(tmpdir(), 'railminder-relay-'));
    const path = join(folder, 'relay');
    const port = instrumentPort();
    const outlet = await openPty(path, 'python3', (bytes) => port.receive(bytes));
    port.attach(outlet);
    const contact: boolean[] = [];
    const clock = systemClock();
    const deadMs = 1000;
    const board = relayBoardDevice({
      end: port,
      clock,
      deadMs,
      onContact: (isClosed) => void contact.push(isClosed),
    });
    board.start();
    const child = spawn(process.execPath, [CHILD, path], { stdio: ['ignore', 'pipe', 'inherit'] });
    const gone = once(child, 'close');
    onTestFinished(async () => {
      child.kill('SIGKILL');
      await gone;
      board.stop();
      await outlet.unplug();
      await rm(folder, { recursive: true });
    });
    await once(child.stdout, 'data');
    await new Promise<void>((resolve) => void clock.after(5 * deadMs, resolve));
    expect(contact).toEqual([true]);
    child.kill('SIGKILL');
    await vi.waitUntil(() => contact.length === 2, { timeout: 10_000 });
    expect(contact).toEqual([true, false]);
  });
});
