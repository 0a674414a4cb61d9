import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createDesignDesk } from '../../daemon/desk/design-desk.js';
import { previewOf } from '../../daemon/desk/preview.js';
import { startServer } from '../../daemon/serve/server.js';
import { CABIN } from '../daemon/desk/cabin-text.js';
import { cabin } from '../daemon/serve/cabin.js';

/** A daemon with a session and a folder of designs, for the page of the design. */
export interface DesignBench {
  readonly address: string;
  readonly folder: string;
  readonly read: (file: string) => Promise<string>;
  readonly write: (file: string, text: string) => Promise<void>;
  readonly stop: () => Promise<void>;
}

export const OWN = 'cabin.design.yaml';

/** Serves the built page over a folder of its own with the signal cabin's design in it. */
export async function startDesignBench(page: string, text = CABIN): Promise<DesignBench> {
  const folder = await mkdtemp(join(tmpdir(), 'railminder-designs-'));
  const file = join(folder, OWN);
  await writeFile(file, text);
  const session = cabin();
  const desk = createDesignDesk({
    design: { file, text },
    load: 'typical',
    copiesTo: null,
    preview: (request, name) => Promise.resolve(previewOf(request, name)),
  });
  const server = await startServer({
    port: 0,
    pageFolder: page,
    hub: session.hub,
    wall: session.clock,
    desk,
  });
  return {
    address: server.address,
    folder,
    read: (name) => readFile(join(folder, name), 'utf8'),
    write: (name, fresh) => writeFile(join(folder, name), fresh),
    async stop() {
      await server.close();
      await rm(folder, { recursive: true, force: true });
    },
  };
}
