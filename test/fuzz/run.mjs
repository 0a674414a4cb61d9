// Puts every driver, or those named, through a million damaged chunks: run.mjs [DRIVER...] [--chunks N] [--seed N]
import { fileURLToPath } from 'node:url';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { runnerImport } from 'vite';

const MOST_GROWN_KILOBYTES = 4096;
const { values, positionals } = parseArgs({
  allowPositionals: true,
  options: { chunks: { type: 'string', default: '1000000' }, seed: { type: 'string', default: '1' } },
});
const folder = fileURLToPath(new URL('.', import.meta.url));
const load = async (file) => (await runnerImport(join(folder, file), { logLevel: 'error' })).module;
const { CONTRACTS } = await load('contracts.ts');
const { fuzzDriver } = await load('fuzz.ts');
const { addToCorpus, corpusText } = await load('corpus.ts');

/** The tests bear in mind what a driver failed on. Where it fails after earlier plans only, the seed brings it back. */
function keep(failure) {
  const { driver, plan, chunks } = failure;
  if (chunks !== undefined) {
    const text = corpusText(`npm run fuzz -- ${driver} --seed ${values.seed}, plan ${plan}`, chunks);
    console.error(`kept as ${addToCorpus(driver, `seed-${values.seed}-plan-${plan}.txt`, text)}`);
  }
  throw failure;
}

const rows = [];
for (const contract of CONTRACTS) {
  if (positionals.length > 0 && !positionals.includes(contract.driver.name)) continue;
  const startedMs = performance.now();
  const row = await fuzzDriver(contract, Number(values.chunks), Number(values.seed)).catch(keep);
  rows.push({ ...row, seconds: Math.round((performance.now() - startedMs) / 1000) });
  console.log(`${contract.driver.name}: ${row.chunks} chunks, ${row.readings} readings, seed ${values.seed}`);
  if (row.grownKilobytes > MOST_GROWN_KILOBYTES) {
    throw new Error(`${contract.driver.name} has grown by ${row.grownKilobytes} kilobytes`);
  }
}
console.table(rows);
