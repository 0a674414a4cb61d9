import { describe, expect, it } from 'vitest';
import type { Judgement } from '../../../daemon/watch/suspects/judgement.js';
import type { StartSuspectThread } from '../../../daemon/suspects/suspect-thread.js';
import type { SuspectQuestion } from '../../../daemon/suspects/weigher.js';
import type { Settled } from '../../../daemon/watch/suspects/settled.js';
import { cabin } from '../design/signal-cabin.js';

/** The compiled one: a thread runs what is installed. */
const COMPILED = new URL('../../../dist/daemon/suspects/suspect-thread.js', import.meta.url).href;
const { startSuspectThread } = (await import(COMPILED)) as { startSuspectThread: StartSuspectThread };

const asked = (settled: readonly Settled[]): SuspectQuestion => ({
  settled,
  load: 'typical',
  isLoadSure: false,
});

describe('the thread that weighs', () => {
  it('answers each set of readings in turn', async () => {
    const judged: Judgement[] = [];
    await new Promise<void>((resolve, reject) => {
      const thread = startSuspectThread(
        { design: cabin(), seed: 1 },
        {
          onJudged: (judgement) => {
            judged.push(judgement);
            if (judged.length < 2) return;
            thread.stop();
            resolve();
          },
          onFailed: (why) => reject(new Error(why)),
        },
      );
      thread.weigh(asked([]));
      // Half the ripple's frequency: common practice for a bridge with an open diode.
      thread.weigh(asked([{ point: 'reservoir.hertz', value: 50, standardUncertainty: 0.05 }]));
    });
    const [nothing, halfGone] = judged;
    expect(nothing?.suspects[0]?.fault).toBe('healthy');
    expect(halfGone?.suspects[0]?.fault).toBe('diode-open');
  }, 120_000);

  it('says why when it fails', async () => {
    const why = await new Promise<string>((resolve) => {
      startSuspectThread(
        { design: { ...cabin(), rails: {} }, seed: NaN },
        { onJudged: () => undefined, onFailed: resolve },
      ).weigh(asked([{ point: 'reservoir.volts', value: NaN, standardUncertainty: 1 }]));
    });
    expect(why).not.toBe('');
  }, 60_000);
});
