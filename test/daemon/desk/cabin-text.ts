import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

/** The signal cabin's design as its person wrote it. */
export const CABIN = readFileSync(
  fileURLToPath(
    new URL('../../../daemon/design/examples/signal-cabin/signal-cabin.design.yaml', import.meta.url),
  ),
  'utf8',
);

/** The signal cabin's bench file as its person wrote it. */
export const CABIN_BENCH = readFileSync(
  fileURLToPath(
    new URL('../../../daemon/design/examples/signal-cabin/signal-cabin.bench.yaml', import.meta.url),
  ),
  'utf8',
);
