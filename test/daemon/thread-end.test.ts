import { expect, it } from 'vitest';
import { Worker } from 'node:worker_threads';
import { onThreadEnd } from '../../daemon/thread-end.js';

const DEATHS = {
  throws: "throw new Error('no table for this')",
  'leaves by itself': 'process.exit(3)',
  'runs out of memory': 'const kept = []; for (;;) kept.push(new Array(1e5).fill(kept.length))',
  'leaves a promise to fail': "Promise.reject(new Error('no table for this'))",
};
const WHY = {
  throws: /^no table for this$/,
  'leaves by itself': /^it ended by itself with code 3$/,
  'runs out of memory': /memory/,
  'leaves a promise to fail': /^no table for this$/,
};

it.each(Object.keys(DEATHS) as (keyof typeof DEATHS)[])(
  'a thread that %s is told once, with why',
  async (how) => {
    const told: string[] = [];
    const thread = new Worker(DEATHS[how], { eval: true, resourceLimits: { maxOldGenerationSizeMb: 16 } });
    const gone = new Promise((resolve) => thread.once('exit', resolve));
    onThreadEnd(thread, (why) => told.push(why));
    await gone;
    await new Promise((resolve) => setImmediate(resolve));
    expect(told).toEqual([expect.stringMatching(WHY[how])]);
  },
);

it('a thread that is ended from outside is told too', async () => {
  const thread = new Worker('setInterval(() => undefined, 1000)', { eval: true });
  const why = new Promise<string>((resolve) => onThreadEnd(thread, resolve));
  await thread.terminate();
  expect(await why).toMatch(/ended by itself/);
});
