import { readFile } from 'node:fs/promises';
import { expect, it } from 'vitest';
import { checksOf } from './checks.js';
import { soak } from './soak.js';

const DESIGN = new URL('../../daemon/design/examples/signal-cabin/signal-cabin.design.yaml', import.meta.url);
const SEED = 7;

it(`watches for twenty minutes with every kind of fault, and all of it is told and kept (seed ${SEED})`, async () => {
  const designText = await readFile(DESIGN, 'utf8');
  const result = await soak({ designText, hours: 1 / 3, seed: SEED, meanGapMs: 20_000 });
  const unmet = checksOf(result).filter(({ isMet }) => !isMet);
  expect(unmet).toEqual([]);
  for (const [kind, { done }] of result.faults) expect([kind, done > 0]).toEqual([kind, true]);
  expect(result.live.readings).toBeGreaterThan(10_000);
  expect(result.live.captures).toBeGreaterThan(1);
  expect(result.live.raised).toBeGreaterThan(result.faults.size);
  expect(result.pages.snapshots).toBeGreaterThan(2);
}, 300_000);
