import { basename, dirname, resolve } from 'node:path';
import { begunDesign, designWithRail, type Answered } from '../design/begin-design.js';
import type { LoadState } from '../design/design.js';
import { FileProblems, loadDesign } from '../design/load.js';
import type { Begun, DesignDesk, SaveRequest, Saved } from '../serve/design-messages.js';
import { YamlFolder } from './yaml-folder.js';
import type { Previewer } from './desk-thread.js';

export interface DeskSetup {
  /** The design that the session watches, with the text that it was started with. */
  readonly design: { readonly file: string; readonly text: string };
  readonly load: LoadState;
  /** Where designs go when the session's own must not be replaced (an example); null: it may. */
  readonly copiesTo: string | null;
  readonly preview: Previewer;
}

/** Opens, previews, begins and saves designs for the page. What runs isn't touched by any of it. */
export function createDesignDesk({ design, load, copiesTo, preview }: DeskSetup): DesignDesk {
  const own = basename(design.file);
  const folder = new YamlFolder(
    'design',
    copiesTo ?? dirname(resolve(design.file)),
    copiesTo === null ? own : null,
  );
  const place = { folder: folder.folder, load };
  return {
    async open() {
      if (copiesTo !== null) return { ...place, file: null, text: design.text, version: null };
      const now = await folder.read(own).catch(() => null);
      // A file that is gone can still be written anew under another name.
      if (now === null) return { ...place, file: null, text: design.text, version: null };
      return { ...place, file: own, ...now };
    },
    preview: (request) => preview(request, own),
    begin: (request) => Promise.resolve(begun(begunDesign(request))),
    rail: ({ text, ...rail }) => Promise.resolve(railAdded(text, rail)),
    save: (request) => savedIfRight(folder, request),
  };
}

function begun({ value, complaints }: Answered<string>): Begun {
  return value === null ? { text: null, complaints } : { text: value, complaints: null };
}

function railAdded(text: string, rail: Parameters<typeof designWithRail>[2]): Begun {
  try {
    return begun(designWithRail(text, loadDesign(text, 'the design'), rail));
  } catch (error) {
    if (!(error instanceof FileProblems)) throw error;
    return { text: null, complaints: { name: 'put right what is marked in the other parts first' } };
  }
}

/** A design that no session could be started with isn't written over one that could. */
async function savedIfRight(folder: YamlFolder, request: SaveRequest): Promise<Saved> {
  try {
    loadDesign(request.text, request.file);
  } catch (error) {
    if (!(error instanceof FileProblems)) throw error;
    const why = `Not saved: ${error.problems[0]?.text ?? 'the design is not right yet'}`;
    return { file: null, version: null, why };
  }
  return folder.save(request);
}
