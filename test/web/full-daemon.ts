import { rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { changedBench } from '../../daemon/desk/bench-preview.js';
import { createDesignDesk } from '../../daemon/desk/design-desk.js';
import { createInstrumentDesk } from '../../daemon/desk/instrument-desk.js';
import { previewOf } from '../../daemon/desk/preview.js';
import { loadBench, loadDesign } from '../../daemon/design/load.js';
import { InstrumentTaps } from '../../daemon/instrument-taps.js';
import { JobDesk } from '../../daemon/job/job-desk.js';
import { JobAnswers } from '../../daemon/serve/job-http.js';
import type { SnapshotMessage } from '../../daemon/serve/messages.js';
import type { PortDescription } from '../../drivers/ports.js';
import { CABIN, CABIN_BENCH } from '../daemon/desk/cabin-text.js';
import { FakeDaemon } from './fake-daemon.js';
import { jobSamples } from './job-page.js';

const PORTS: readonly PortDescription[] = [
  { path: '/dev/ttyACM0', kind: 'serial', usb: null, serial: null, maker: null, product: 'board' },
  {
    path: '/dev/ttyUSB0',
    kind: 'serial',
    usb: '1a86:7523',
    serial: null,
    maker: null,
    product: 'bench meter',
  },
];

/** A daemon that the test plays, with real answers about a design, a bench file and a folder of recordings behind it. */
export async function startFullDaemon(page: string, snapshot: SnapshotMessage): Promise<FakeDaemon> {
  const folder = await jobSamples();
  const file = join(folder, 'cabin.design.yaml');
  const benchFile = join(folder, 'cabin.bench.yaml');
  await writeFile(file, CABIN);
  await writeFile(benchFile, CABIN_BENCH);
  const value = loadDesign(CABIN, file);
  const daemon = new FakeDaemon(page, snapshot);
  const jobDesk = new JobDesk(folder, 'test 1');
  daemon.job = new JobAnswers({ answer: (ask) => jobDesk.answer(ask, null) });
  daemon.design = createDesignDesk({
    design: { file, text: CABIN },
    load: 'typical',
    copiesTo: null,
    preview: (request, name) => Promise.resolve(previewOf(request, name)),
  });
  const instruments = createInstrumentDesk({
    design: { file, text: CABIN, value },
    bench: { file: benchFile, text: CABIN_BENCH, value: loadBench(CABIN_BENCH, benchFile, value) },
    outsideDrivers: new Map(),
    taps: new InstrumentTaps(),
    held: [{ name: 'meter', link: { serial: '/dev/ttyUSB0', baud: 9600 } }],
    copiesTo: null,
    changeBench: (request) => Promise.resolve(changedBench(request)),
    listPorts: () => Promise.resolve(PORTS),
  });
  daemon.instruments = instruments;
  daemon.onStop = async () => {
    await instruments.close();
    await rm(folder, { recursive: true, force: true });
  };
  await daemon.start();
  return daemon;
}
