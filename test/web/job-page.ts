import { createHash } from 'node:crypto';
import { copyFile, mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { JobDesk } from '../../daemon/job/job-desk.js';
import type { JobAsk } from '../../daemon/serve/job-ask.js';
import { JobAnswers } from '../../daemon/serve/job-http.js';
import { FakeDaemon } from './fake-daemon.js';
import { calm } from './signal-cabin.js';

const SAMPLES = new URL('../../recordings/', import.meta.url);

/** A daemon with a folder of real recordings behind it. */
export interface JobDaemon {
  readonly daemon: FakeDaemon;
  readonly address: string;
  /** Where the recordings are. */
  readonly folder: string;
  /** What the page asked for, oldest first. */
  readonly asked: JobAsk[];
  /** Set: every ask is answered by this and a 503. */
  trouble: string | null;
  stop(): Promise<void>;
}

/** Two good recordings that are a day apart, an eight-hour one, one that was cut off, and a file that is none. */
export async function jobSamples(): Promise<string> {
  const folder = await mkdtemp(join(tmpdir(), 'railminder-job-'));
  const text = (name: string): Promise<string> => readFile(new URL(name, SAMPLES), 'utf8');
  await writeFile(join(folder, 'no-heatsink.ndjson'), await text('heatsink-missing.ndjson'));
  await writeFile(join(folder, 'with-heatsink.ndjson'), aDayLater(await text('healthy.ndjson')));
  await writeFile(join(folder, 'cut-off.ndjson'), (await text('diode-open.ndjson')).slice(0, -400));
  await copyFile(new URL('eight-hour-soak.ndjson.gz', SAMPLES), join(folder, 'soak.ndjson.gz'));
  await writeFile(join(folder, 'shopping.ndjson'), 'buy lamps\n');
  return folder;
}

/** With a seal that fits: a line whose SHA-256 is of all bytes before it (recordings/README.md). */
function aDayLater(text: string): string {
  const sealed = text.replace('2026-11-25T18:40', '2026-11-26T19:05').trimEnd();
  const before = sealed.slice(0, sealed.lastIndexOf('\n') + 1);
  const sha256 = createHash('sha256').update(before).digest('hex');
  return `${before}{"kind":"seal","sha256":"${sha256}"}\n`;
}

/** @param folder removed when the daemon stops */
export async function jobDaemon(page: string, folder: string): Promise<JobDaemon> {
  const desk = new JobDesk(folder, 'test 1');
  const daemon = new FakeDaemon(page, calm());
  const asked: JobAsk[] = [];
  const made = {
    daemon,
    asked,
    trouble: null as string | null,
    address: await daemon.start(),
    folder,
    async stop() {
      await daemon.stop();
      await rm(folder, { recursive: true, force: true });
    },
  };
  daemon.job = new JobAnswers({
    answer: (ask) => {
      asked.push(ask);
      if (made.trouble !== null) return Promise.resolve({ ok: false, status: 503, why: made.trouble });
      return desk.answer(ask, null);
    },
  });
  return made;
}
