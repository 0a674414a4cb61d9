import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it, onTestFinished } from 'vitest';
import { linkFor } from '../../daemon/links.js';
import { systemClock } from '../../drivers/system-clock.js';
import { openPtyPair } from '../drivers/pty.js';
import { cabinSession } from './cabin-session.js';
import { relayTable } from './relay-table.js';

/**
 * A session that has let power through a relay board without a dead man's switch, armed; all of it over
 * pseudo-terminals. The board's cable can be pulled.
 */
async function heldRelay() {
  const folder = await mkdtemp(join(tmpdir(), 'railminder-replugged-'));
  const [rails, relay] = await Promise.all([openPtyPair(folder, 'rails'), openPtyPair(folder, 'relay')]);
  onTestFinished(async () => {
    await Promise.all([rails.unplug(), relay.unplug()]);
    await rm(folder, { recursive: true, force: true });
  });
  const board = { isClosed: false };
  relay.onData((bytes) => {
    for (const line of bytes.toString('ascii').split('\n')) {
      if (line === 'CLOSE') board.isClosed = true;
      if (line === 'OPEN') board.isClosed = false;
      if (line === 'STATE') void relay.write(board.isClosed ? 'CLOSED\r\n' : 'OPENED\r\n');
    }
  });
  const clock = systemClock();
  const { session } = await cabinSession(relayTable(rails.devicePath, relay.devicePath), () => ({
    clock,
    linkFor: ({ spec }) => linkFor(spec.link, clock),
  }));
  const until = (isSo: () => boolean): Promise<void> =>
    new Promise((resolve) => {
      if (isSo()) resolve();
      else session.onStep(() => isSo() && resolve());
    });
  const order = (what: 'on' | 'arm') =>
    session.act({ kind: 'cut-off', output: 'mains-relay', order: what, inSight: true });
  const says = (state: 'open' | 'lost') => () =>
    session.state.instruments.some((one) => one.name === 'mains-relay' && one.state === state);
  const standing = () => session.state.cutOffs[0];
  const measured = (volts: number) => {
    const isRead = until(() =>
      session.state.points.some(({ id, value }) => id === 'logic.volts' && value === volts),
    );
    return rails.write(`LOGIC ${volts} V\r\n`).then(() => isRead);
  };
  session.start();
  await until(says('open'));
  // What comes first may be half a line.
  await rails.write('\r\n');
  await measured(5.02);
  order('on');
  await until(() => standing()?.position === 'on');
  expect(order('arm')).toBeNull();
  return { session, board, relay, until, says, standing, measured };
}

describe('a relay that is held on and loses its cable', () => {
  it('is opened as soon as it is back when an alarm dropped it meanwhile', async () => {
    const { board, relay, until, says, standing, measured } = await heldRelay();
    await relay.unplug();
    await until(says('lost'));
    await measured(18.6);
    expect(standing()).toMatchObject({ state: 'dropped', position: 'unknown' });
    expect(board.isClosed).toBe(true);
    await relay.replug();
    await until(() => standing()?.position === 'off');
    expect(board.isClosed).toBe(false);
  });

  it('is opened when the session ends, though it was away for a moment', async () => {
    const { session, board, relay, until, says } = await heldRelay();
    await relay.unplug();
    await until(says('lost'));
    await relay.replug();
    await until(says('open'));
    expect(board.isClosed).toBe(true);
    await session.close();
    expect(board.isClosed).toBe(false);
  });

  it('is told as an alarm when the session ends and it is away', async () => {
    const { session, relay, until, says } = await heldRelay();
    await relay.unplug();
    await until(says('lost'));
    await session.close();
    const failed = session.state.alarms.find(({ cause }) => cause.kind === 'cut-off-failed');
    expect(failed).toMatchObject({ active: true, priority: 'high' });
    expect(await readFile(session.file ?? '', 'utf8')).toMatch(
      /"kind":"output".*"failed":".*it is not connected; switch the supply off at the mains"/,
    );
  });
});
