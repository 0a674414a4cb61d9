import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { onTestFinished } from 'vitest';
import { createDesignDesk } from '../../../daemon/desk/design-desk.js';
import { previewOf } from '../../../daemon/desk/preview.js';
import type { DesignDesk } from '../../../daemon/serve/design-messages.js';
import { CABIN } from './cabin-text.js';

export interface TestDesk {
  readonly desk: DesignDesk;
  readonly folder: string;
  /** What stands in a file of the folder. */
  readonly read: (file: string) => Promise<string>;
}

export const OWN = 'cabin.design.yaml';

/** A desk over a folder of its own with the signal cabin's design in it; previews without a thread. */
export async function testDesk(copies = false): Promise<TestDesk> {
  const folder = await mkdtemp(join(tmpdir(), 'railminder-desk-'));
  onTestFinished(() => rm(folder, { recursive: true, force: true }));
  const file = join(folder, OWN);
  await writeFile(file, CABIN);
  const desk = createDesignDesk({
    design: { file, text: CABIN },
    load: 'typical',
    copiesTo: copies ? folder : null,
    preview: (request, name) => Promise.resolve(previewOf(request, name)),
  });
  return { desk, folder, read: (name) => readFile(join(folder, name), 'utf8') };
}
