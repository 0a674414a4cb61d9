import { stringify } from 'yaml';
import type { Design } from './design/design.js';
import { loadBench } from './design/load.js';
import { testPointsOf } from './design/test-points.js';
import type { Written } from './files.js';
import type { Bench } from './design/bench.js';
import { isReadByEye } from './typed-instruments.js';

/** What is shown for the file that there isn't. */
const NAME = 'one meter by hand';

/** Four digits and a bit, as hand-held meters of the 20 V range have them (common practice). */
const VOLTS = { percent: 0.5, counts: 2, resolution: 0.01 };
/** A hand-held meter's thermocouple range shows whole degrees (common practice). */
const TEMPERATURE = { percent: 1, counts: 3, resolution: 1 };
const READINGS = [
  { measures: 'dc-volts', accuracy: VOLTS },
  { measures: 'temperature', accuracy: TEMPERATURE },
] as const;

/**
 * A bench for someone with one ordinary multimeter: it is read by eye at one test point after the other. A channel for
 * each, so that a reading stands until it is old and not only until the probe has moved on.
 */
export function meterByHand(design: Design): Written<Bench> {
  const channels = Object.fromEntries(
    testPointsOf(design).flatMap((point) =>
      READINGS.filter(({ measures }) => isReadByEye(point, measures)).map((reading) => [point, reading]),
    ),
  );
  const text = stringify(
    { bench: NAME, instruments: { meter: { driver: 'by-hand', channels } } },
    { aliasDuplicateObjects: false },
  );
  return { file: NAME, text, value: loadBench(text, NAME, design) };
}
