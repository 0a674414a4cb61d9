import { describe, expect, it } from 'vitest';
import { CONTRACTS } from './contracts.js';
import { fuzzDriver } from './fuzz.js';

const CHUNKS = 3000;
const SEED = 4711;

describe.each(CONTRACTS.map((contract) => [contract.driver.name, contract] as const))('%s', (_, contract) => {
  it(`bears ${CHUNKS} damaged chunks without a wrong number or growth (seed ${SEED})`, async () => {
    const { chunks, readings, grownKilobytes } = await fuzzDriver(contract, CHUNKS, SEED);
    expect(chunks).toBeGreaterThanOrEqual(CHUNKS);
    expect(readings).toBeGreaterThan(30);
    expect(grownKilobytes).toBeLessThan(4096);
  });
});
