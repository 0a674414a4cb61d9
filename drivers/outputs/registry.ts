import type { OutputDriver } from './output.js';
import { relayLines } from './relay-lines.js';
import { scpiSupply } from './scpi-supply.js';

/** Every output driver under the word that the bench file uses for it. */
export const OUTPUT_DRIVERS: Readonly<Record<string, OutputDriver>> = {
  'relay-lines': relayLines,
  'scpi-supply': scpiSupply,
};
