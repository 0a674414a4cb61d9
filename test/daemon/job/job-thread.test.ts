import { describe, expect, it, onTestFinished, vi } from 'vitest';
import { JobThread, type JobThreadOptions } from '../../../daemon/job/job-thread.js';
import type { JobAnswer, JobAsk } from '../../../daemon/serve/job-ask.js';
import { manualClock } from '../../manual-clock.js';
import { desk, jobFolder, told } from './job-folder.js';

/** The compiled one: a thread runs what is installed. */
const COMPILED = new URL('../../../dist/daemon/job/job-thread.js', import.meta.url).href;
const { JobThread: CompiledThread } = (await import(COMPILED)) as {
  JobThread: new (options: JobThreadOptions) => JobThread;
};

function thread(folder: string): JobThread {
  const made = new CompiledThread({ folder, software: 'test 1', running: () => null });
  onTestFinished(() => made.close());
  return made;
}

const never = new AbortController().signal;

async function bodyOf(answer: JobAnswer): Promise<string> {
  if (!answer.ok) return `${answer.status} ${answer.why}`;
  let text = '';
  for await (const chunk of answer.chunks) text += chunk;
  return text;
}

describe('the thread that reads recordings', () => {
  it('answers many asks at once as they are answered one after the other', async () => {
    const folder = await jobFolder();
    const asks: readonly JobAsk[] = [
      { kind: 'list' },
      { kind: 'outcome', recording: 'heatsink-missing.ndjson' },
      { kind: 'state', recording: 'heatsink-missing.ndjson', atMs: 55_000 },
      { kind: 'csv', recording: 'healthy.ndjson', form: 'readings' },
      { kind: 'outcome', recording: 'notes.ndjson' },
      { kind: 'outcome', recording: 'none.ndjson' },
    ];
    const one = thread(folder);
    const answers = await Promise.all(asks.map(async (ask) => bodyOf(await one.answer(ask, never))));
    for (const [i, ask] of asks.entries()) expect(answers[i]).toBe(await told(desk(folder), ask));
  });

  it('whose body nobody wants any more reads no further, and goes on answering', async () => {
    const one = thread(await jobFolder());
    const gone = new AbortController();
    const answer = await one.answer(
      { kind: 'csv', recording: 'healthy.ndjson', form: 'readings' },
      gone.signal,
    );
    if (!answer.ok) throw new Error(answer.why);
    const body = answer.chunks[Symbol.asyncIterator]();
    expect((await body.next()).done).toBe(false);
    gone.abort();
    await expect(body.next()).rejects.toThrow(/could not be read to its end/);
    expect(await bodyOf(await one.answer({ kind: 'list' }, never))).toMatch(/^\{"folder"/);
  });

  it('that breaks is told, and the next ask starts another one', async () => {
    const folder = await jobFolder();
    const one = thread(folder);
    expect((await one.answer({ kind: 'list' }, never)).ok).toBe(true);
    const broken = one.answer({ kind: 'report', recording: 'healthy.ndjson' }, never);
    await one.close();
    expect(await broken).toMatchObject({
      ok: false,
      status: 503,
      why: expect.stringMatching(/try again/) as string,
    });
    expect((await one.answer({ kind: 'list' }, never)).ok).toBe(true);
  });

  it.each([
    ['throws', 'throw', /no table for this/],
    ['leaves', 'exit', /ended by itself with code 3/],
  ])(
    'that %s is told as stopped until another one, which starts by itself, is there',
    async (_how, death, why) => {
      vi.stubEnv('MORTAL_WORKER', death);
      onTestFinished(() => void vi.unstubAllEnvs());
      const clock = manualClock();
      const health: (string | null)[] = [];
      const one = new JobThread({
        folder: await jobFolder(),
        software: 'test 1',
        running: () => null,
        onHealth: (told) => health.push(told),
        wall: clock,
        file: new URL('../children/mortal-worker.mjs', import.meta.url),
      });
      onTestFinished(() => one.close());
      expect(await one.answer({ kind: 'list' }, never)).toMatchObject({ ok: false, status: 503 });
      expect(health.at(-1)).toMatch(why);
      vi.stubEnv('MORTAL_WORKER', '');
      clock.advance(5000);
      await vi.waitFor(() => expect(health.at(-1)).toBeNull(), 20_000);
      expect(await one.answer({ kind: 'list' }, never)).toMatchObject({ status: 404 });
    },
  );
});
