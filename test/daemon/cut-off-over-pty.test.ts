import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, it, onTestFinished } from 'vitest';
import { linkFor } from '../../daemon/links.js';
import { systemClock } from '../../drivers/system-clock.js';
import { openPtyPair } from '../drivers/pty.js';
import { cabinSession } from './cabin-session.js';
import { relayTable } from './relay-table.js';

it('over real pseudo-terminals one reading that shows the reservoir on a rail brings OPEN to the relay', async () => {
  const folder = await mkdtemp(join(tmpdir(), 'railminder-cut-off-'));
  const [rails, relay] = await Promise.all([openPtyPair(folder, 'rails'), openPtyPair(folder, 'relay')]);
  onTestFinished(async () => {
    await Promise.all([rails.unplug(), relay.unplug()]);
    await rm(folder, { recursive: true, force: true });
  });
  let heard = '';
  let isClosed = false;
  const opened = new Promise<void>((resolve) => {
    relay.onData((bytes) => {
      heard += bytes.toString('ascii');
      if (heard.includes('OPEN\n')) {
        isClosed = false;
        resolve();
      } else if (heard.includes('CLOSE\n')) isClosed = true;
      if (bytes.includes('STATE')) void relay.write(isClosed ? 'CLOSED\r\n' : 'OPENED\r\n');
    });
  });
  const clock = systemClock();
  const { session } = await cabinSession(relayTable(rails.devicePath, relay.devicePath), () => ({
    clock,
    linkFor: ({ spec }) => linkFor(spec.link, clock),
  }));
  const until = (isSo: () => boolean): Promise<void> =>
    new Promise((resolve) => session.onStep(() => isSo() && resolve()));
  const connected = until(() =>
    session.state.instruments.some(({ name, state }) => name === 'mains-relay' && state === 'open'),
  );
  const read = until(() =>
    session.state.points.some(({ id, value }) => id === 'logic.volts' && value === 5.02),
  );
  session.start();
  await connected;
  const speaking = setInterval(() => void rails.write('LOGIC 5.02 V\r\n'), 100);
  await read;
  clearInterval(speaking);
  expect(session.act({ kind: 'cut-off', output: 'mains-relay', order: 'on', inSight: true })).toBeNull();
  await until(() => session.state.cutOffs[0]?.position === 'on');
  expect(session.act({ kind: 'cut-off', output: 'mains-relay', order: 'arm', inSight: true })).toBeNull();
  await rails.write('LOGIC 18.6 V\r\n');
  await opened;
  expect(session.state.cutOffs[0]).toMatchObject({ state: 'dropped', alarm: 'passing-input:logic.volts' });
});
