import { describe, expect, it } from 'vitest';
import { isRecord, startBeside } from '../../daemon/side-thread.js';

interface Said {
  readonly sum: number;
}

const isSaid = (said: unknown): said is Said => isRecord(said) && typeof said['sum'] === 'number';

const thread = (script: string): URL => new URL(`data:text/javascript,${encodeURIComponent(script)}`);
const ADDS = `import { parentPort, workerData } from 'node:worker_threads';
parentPort.on('message', (number) => parentPort.postMessage({ sum: workerData + number }));`;
const says = (word: string): string => `import { parentPort } from 'node:worker_threads';
parentPort.postMessage(${word}); parentPort.postMessage({ sum: 1 }); setInterval(() => undefined, 1000);`;

/** Everything that a thread says until it ends, and why it ended. */
function heard(file: URL): Promise<{ said: Said[]; why: string }> {
  const said: Said[] = [];
  return new Promise((resolve) => {
    let isStarting = true;
    startBeside(file, {
      isSaid,
      onMessage: (message) => said.push(message),
      onEnd: (why) => {
        expect(isStarting).toBe(false);
        resolve({ said, why });
      },
    });
    isStarting = false;
  });
}

describe('a thread beside the program', () => {
  it('is told, answers, and can be ended', async () => {
    const ended: string[] = [];
    const sum = await new Promise<number>((resolve) => {
      const adding = startBeside(thread(ADDS), {
        workerData: 2,
        isSaid,
        onMessage: (message) => resolve(adding.end().then(() => message.sum) as never),
        onEnd: (why) => ended.push(why),
      });
      adding.tell(3);
    });
    expect(sum).toBe(5);
    expect(ended).toEqual([expect.stringMatching(/^it ended by itself/)]);
  });

  it.each(['null', "'sum'", '[5]', "{ sum: '5' }", 'new Map([[1, 2]])', 'undefined'])(
    'that says %s is ended, and nothing that it says after that counts',
    async (word) => {
      expect(await heard(thread(says(word)))).toEqual({ said: [], why: 'it said what makes no sense' });
    },
  );

  it('that throws is told with why', async () => {
    expect((await heard(thread("throw new Error('no table for this')"))).why).toBe('no table for this');
  });

  it('that can’t be started is told later, and takes no harm from being asked', async () => {
    // Node takes files and data only, and throws at once, as it does when the system gives no thread.
    const nowhere = new URL('https://127.0.0.1/thread.mjs');
    expect((await heard(nowhere)).why).toMatch(/^it can't be started \(.+\); end other programs$/);
    const none = startBeside(nowhere, { isSaid, onMessage: () => undefined, onEnd: () => undefined });
    none.tell({ sum: 1 });
    await none.end();
  });
});
