import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { startServer } from '../../daemon/serve/server.js';
import { InstrumentTaps } from '../../daemon/instrument-taps.js';
import { lineBoardDevice } from '../../drivers/simulated/line-board-device.js';
import { memoryLinkPair } from '../../drivers/links/memory.js';
import { seededRandom } from '../../drivers/simulated/random.js';
import { systemClock } from '../../drivers/system-clock.js';
import { testInstrumentDesk, type TestInstrumentDesk } from '../daemon/desk/instrument-bench.js';
import { cabin } from '../daemon/serve/cabin.js';
import { openPtyPair } from '../drivers/pty.js';

/** A daemon with a board on a real pseudo-terminal that no session has yet, and one that runs. */
export interface InstrumentPage extends TestInstrumentDesk {
  readonly address: string;
  /** The free board's device path. */
  readonly port: string;
  readonly stop: () => Promise<void>;
}

/** Serves the built page over a folder of its own with the signal cabin's bench file in it. */
export async function startInstrumentPage(page: string): Promise<InstrumentPage> {
  const folder = await mkdtemp(join(tmpdir(), 'railminder-pty-'));
  const pty = await openPtyPair(folder, 'board');
  const board = lineBoardDevice({
    end: { send: (bytes) => void pty.write(bytes), onBytes: (listener) => pty.onData(listener) },
    clock: systemClock(),
    random: seededRandom(11),
    patterns: ['T1: {lamps.case} C, T2: {logic.case} C'],
    intervalMs: 100,
    measurandOf: () => 'temperature',
    measure: () => 38,
  });
  board.start();
  const session = cabin();
  const beating = setInterval(() => session.clock.advance(100), 100);
  const bench = await testInstrumentDesk({
    taps: tapsOf('thermometer'),
    held: [{ name: 'thermometer', link: { serial: '/dev/ttyACM0', baud: 115_200 } }],
    listPorts: () =>
      Promise.resolve([
        {
          path: pty.devicePath,
          kind: 'serial',
          usb: '1a86:7523',
          serial: null,
          maker: null,
          product: 'board',
        },
        { path: '/dev/ttyACM0', kind: 'serial', usb: null, serial: null, maker: null, product: null },
      ]),
  });
  const server = await startServer({
    port: 0,
    pageFolder: page,
    hub: session.hub,
    wall: session.clock,
    instruments: bench.desk,
  });
  return {
    ...bench,
    address: server.address,
    port: pty.devicePath,
    async stop() {
      clearInterval(beating);
      await bench.desk.close();
      await server.close();
      board.stop();
      await pty.unplug();
      await rm(folder, { recursive: true, force: true });
    },
  };
}

/** What the running instrument has sent so far. */
function tapsOf(instrument: string): InstrumentTaps {
  const taps = new InstrumentTaps();
  const { link, far } = memoryLinkPair(instrument);
  taps.linkOf(instrument, link, () => 0).start({ onState: () => undefined, onBytes: () => undefined });
  far.send(Buffer.from('T1: 41.3 C\r\n'));
  taps.note(instrument, { channel: 't1', value: 41.3, unit: 'degC' });
  return taps;
}
