import { describe, expect, it } from 'vitest';
import { CONTRACTS } from './contracts.js';
import { corpusFile, corpusOf, corpusText, sayCorpus } from './corpus.js';
import { fuzzDriver } from './fuzz.js';

const CHUNKS = 3000;
const SEED = 4711;

describe.each(CONTRACTS.map((contract) => [contract.driver.name, contract] as const))(
  '%s',
  (name, contract) => {
    it(`bears ${CHUNKS} damaged chunks without a wrong number or growth (seed ${SEED})`, async () => {
      const { chunks, readings, grownKilobytes } = await fuzzDriver(contract, CHUNKS, SEED);
      expect(chunks).toBeGreaterThanOrEqual(CHUNKS);
      expect(readings).toBeGreaterThan(30);
      expect(grownKilobytes).toBeLessThan(4096);
    });

    it.each(corpusOf(name).map((file) => [file.name, file] as const))('bears %s, and reads on', (_, file) =>
      sayCorpus(contract, file),
    );
  },
);

it('what is kept of a failure reads back as it was', () => {
  const chunks = [
    { afterMs: 0, bytes: Uint8Array.from({ length: 256 }, (_, byte) => byte) },
    { afterMs: 50, bytes: new Uint8Array(Buffer.from('T1: "41"\\\r\n# reaches: no\n')) },
  ];
  const text = corpusText('seed 1', chunks);
  expect(corpusFile('a.txt', text)).toEqual({ name: 'a.txt', reaches: [], chunks });
  expect(text).toMatch(/^[\n\x20-\x7e]*$/);
});
