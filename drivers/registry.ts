import type { Driver } from './driver.js';
import { scpiMeter } from './scpi-meter/scpi-meter.js';
import { textLines } from './text-lines/text-lines.js';

/** Every driver under the word that the bench file uses for it. A new driver adds one line here. */
export const DRIVERS: Readonly<Record<string, Driver>> = {
  'scpi-meter': scpiMeter,
  'text-lines': textLines,
};
