import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { onTestFinished } from 'vitest';
import { changedBench } from '../../../daemon/desk/bench-preview.js';
import { createInstrumentDesk, type InstrumentDeskSetup } from '../../../daemon/desk/instrument-desk.js';
import { loadBench, loadDesign } from '../../../daemon/design/load.js';
import { InstrumentTaps } from '../../../daemon/instrument-taps.js';
import type { InstrumentDesk } from '../../../daemon/serve/instrument-messages.js';
import { CABIN, CABIN_BENCH } from './cabin-text.js';

export const OWN_BENCH = 'cabin.bench.yaml';

export interface TestInstrumentDesk {
  readonly desk: InstrumentDesk;
  readonly folder: string;
  readonly read: (file: string) => Promise<string>;
}

/** A desk over a folder of its own with the signal cabin's bench in it; nothing is plugged in unless said. */
export async function testInstrumentDesk(
  wishes: Partial<InstrumentDeskSetup> = {},
  text = CABIN_BENCH,
): Promise<TestInstrumentDesk> {
  const folder = await mkdtemp(join(tmpdir(), 'railminder-bench-'));
  onTestFinished(() => rm(folder, { recursive: true, force: true }));
  const file = join(folder, OWN_BENCH);
  await writeFile(file, text);
  const design = loadDesign(CABIN, 'cabin.design.yaml');
  const desk = createInstrumentDesk({
    design: { file: join(folder, 'cabin.design.yaml'), text: CABIN, value: design },
    bench: { file, text, value: loadBench(text, file, design) },
    outsideDrivers: new Map(),
    taps: new InstrumentTaps(),
    held: [],
    copiesTo: null,
    changeBench: (request) => Promise.resolve(changedBench(request)),
    listPorts: () => Promise.resolve([]),
    ...wishes,
  });
  onTestFinished(() => desk.close());
  return { desk, folder, read: (name) => readFile(join(folder, name), 'utf8') };
}
