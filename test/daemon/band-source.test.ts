import { expect, it, onTestFinished, vi } from 'vitest';
import { threadedBands, type BandSource } from '../../daemon/band-source.js';
import type { BandAnswer } from '../../daemon/expected-bands.js';
import { predict } from '../../daemon/predict/predict.js';
import { manualClock } from '../manual-clock.js';
import { cabin } from './design/signal-cabin.js';

// Compiled, as people run it: a thread's file must lie beside its maker's.
const BUILT = new URL('../../dist/daemon/band-source.js', import.meta.url).href;
const MORTAL = new URL('children/mortal-worker.mjs', import.meta.url);

const asked = (source: BandSource, load: 'idle' | 'full'): Promise<BandAnswer | null> =>
  new Promise((resolve) => source.ask({ load, measurements: [] }, resolve));

it('a thread of its own answers in the order of the questions, a load after the other', async () => {
  const built = (await import(BUILT)) as { readonly threadedBands: typeof threadedBands };
  const source = built.threadedBands({ design: cabin(), seed: 0 });
  const health: (string | null)[] = [];
  source.onHealth((why) => health.push(why));
  onTestFinished(() => source.stop());
  const answers = await Promise.all((['idle', 'full'] as const).map((load) => asked(source, load)));
  expect(answers.map((answer) => answer?.load)).toEqual(['idle', 'full']);
  const { low, high } = predict(cabin(), { load: 'full' }).points['reservoir.ripple'] ?? {};
  expect(answers[1]?.bands['reservoir.ripple']).toMatchObject({ low, high });
  await source.stop();
  await source.stop();
  expect(health.every((why) => why === null)).toBe(true);
}, 30_000);

it.each([
  ['throws', 'throw', /no table for this/],
  ['leaves', 'exit', /ended by itself with code 3/],
])('a thread that %s is told, started again later, and asked anew', async (_how, death, why) => {
  vi.stubEnv('MORTAL_WORKER', death);
  onTestFinished(() => void vi.unstubAllEnvs());
  const clock = manualClock();
  const health: (string | null)[] = [];
  const source = threadedBands({ design: cabin(), seed: 0 }, { wall: clock, file: MORTAL });
  source.onHealth((told) => health.push(told));
  onTestFinished(() => source.stop());
  const answers = Promise.all([asked(source, 'idle'), asked(source, 'full')]);
  await vi.waitFor(() => expect(health.at(-1)).toMatch(why), 20_000);
  clock.advance(4999);
  vi.stubEnv('MORTAL_WORKER', '');
  clock.advance(1);
  expect(await answers).toEqual([null, null]);
  expect(health.at(-1)).toBeNull();
});

it('a question on which it ends twice is given up, and the next one is answered', async () => {
  vi.stubEnv('MORTAL_WORKER', 'throw');
  onTestFinished(() => void vi.unstubAllEnvs());
  const clock = manualClock();
  let ends = 0;
  const source = threadedBands({ design: cabin(), seed: 0 }, { wall: clock, file: MORTAL });
  source.onHealth((why) => (ends += why === null ? 0 : 1));
  onTestFinished(() => source.stop());
  const poison = asked(source, 'idle');
  await vi.waitFor(() => expect(ends).toBe(1), 20_000);
  clock.advance(5000);
  expect(await poison).toBeNull();
  expect(ends).toBe(2);
  vi.stubEnv('MORTAL_WORKER', '');
  clock.advance(10_000);
  expect(await asked(source, 'full')).toBeNull();
});
