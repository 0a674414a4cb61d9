import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { TestProject } from 'vitest/node';

declare module 'vitest' {
  export interface ProvidedContext {
    /** Where the page stands for all files of a run, once the first that needs it has built it. */
    pageFolder: string;
  }
}

/** Gives a run a folder for the built page and puts it away in the end. */
export default async function pageFolder(project: TestProject): Promise<() => Promise<void>> {
  const folder = await mkdtemp(join(tmpdir(), 'railminder-page-'));
  project.provide('pageFolder', folder);
  return () => rm(folder, { recursive: true });
}
