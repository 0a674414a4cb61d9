import { copyFile, readFile, symlink, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { JobAsk } from '../../../daemon/serve/job-ask.js';
import { JobDesk } from '../../../daemon/job/job-desk.js';
import { opened } from '../record/open.js';
import { PROBES_ON, volts } from '../record/signal-cabin.js';
import { temporaryFolder } from '../record/temporary-folder.js';

export const SAMPLES = new URL('../../../recordings/', import.meta.url);

/** A job's folder: two whole samples, a compressed one, one that was changed, one that was cut off, and no recordings. */
export async function jobFolder(): Promise<string> {
  const folder = await temporaryFolder();
  for (const name of ['healthy.ndjson', 'heatsink-missing.ndjson', 'eight-hour-soak.ndjson.gz']) {
    await copyFile(new URL(name, SAMPLES), join(folder, name));
  }
  const text = await readFile(new URL('diode-open.ndjson', SAMPLES), 'utf8');
  await writeFile(join(folder, 'changed.ndjson'), text.replace('"kind":"end"', '"kind": "end"'));
  await writeFile(join(folder, 'cut-off.ndjson'), text.slice(0, -400));
  await writeFile(join(folder, 'notes.ndjson'), 'buy lamps\n');
  await writeFile(join(folder, 'letter.txt'), 'secret');
  return folder;
}

/** A file outside the folder that would be a recording, and links that lead to it and to its folder. */
export async function linksOut(folder: string): Promise<void> {
  const outside = await temporaryFolder();
  await copyFile(new URL('healthy.ndjson', SAMPLES), join(outside, 'secret.ndjson'));
  await symlink(join(outside, 'secret.ndjson'), join(folder, 'link.ndjson'));
  await symlink(outside, join(folder, 'elsewhere'));
  await symlink(outside, join(folder, 'folder.ndjson'));
}

/** A session in several files; gives the first one's name. */
export async function partedIn(folder: string): Promise<string> {
  const { recording } = await opened(folder, { partBytes: 4000 });
  for (const event of PROBES_ON) recording.append(event);
  for (let second = 1; second <= 600; second += 1) {
    recording.append(volts(second * 1000, 5 + (second % 7) / 1000));
    if (second % 20 === 19) await recording.flush();
  }
  await recording.close(600_000);
  return '2026-11-25-0839-signal-cabin.ndjson';
}

export function desk(folder: string): JobDesk {
  return new JobDesk(folder, 'test 1');
}

/** The whole body, or status and reason. */
export async function told(of: JobDesk, ask: JobAsk, running: string | null = null): Promise<string> {
  const answer = await of.answer(ask, running);
  if (!answer.ok) return `${answer.status} ${answer.why}`;
  let text = '';
  for await (const chunk of answer.chunks) text += chunk;
  return text;
}

export async function view<View>(of: JobDesk, ask: JobAsk, running: string | null = null): Promise<View> {
  return JSON.parse(await told(of, ask, running)) as View;
}
