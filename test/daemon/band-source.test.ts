import { expect, it, onTestFinished } from 'vitest';
import type { threadedBands as Threaded } from '../../daemon/band-source.js';
import type { BandAnswer } from '../../daemon/expected-bands.js';
import { predict } from '../../daemon/predict/predict.js';
import { cabin } from './design/signal-cabin.js';

// Compiled, as people run it: a thread's file must lie beside its maker's.
const BUILT = new URL('../../dist/daemon/band-source.js', import.meta.url).href;

it('a thread of its own answers in the order of the questions, a load after the other', async () => {
  const { threadedBands } = (await import(BUILT)) as { readonly threadedBands: typeof Threaded };
  const troubles: string[] = [];
  const source = threadedBands({ design: cabin(), seed: 0 }, (why) => troubles.push(why));
  onTestFinished(() => source.stop());
  const answers = await Promise.all(
    (['idle', 'full'] as const).map(
      (load) => new Promise<BandAnswer | null>((resolve) => source.ask({ load, measurements: [] }, resolve)),
    ),
  );
  expect(answers.map((answer) => answer?.load)).toEqual(['idle', 'full']);
  const { low, high } = predict(cabin(), { load: 'full' }).points['reservoir.ripple'] ?? {};
  expect(answers[1]?.bands['reservoir.ripple']).toMatchObject({ low, high });
  await source.stop();
  await source.stop();
  expect(troubles).toEqual([]);
}, 30_000);
