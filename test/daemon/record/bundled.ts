import { chmod } from 'node:fs/promises';
import { bundleInto } from './bundle-into.js';
import { temporaryFolder } from './temporary-folder.js';

/** One file of plain JavaScript from a script in `children/`, for a process of its own; gone after the test. */
export async function bundled(script: string): Promise<string> {
  const folder = await temporaryFolder();
  await chmod(folder, 0o755);
  return bundleInto(folder, script);
}
