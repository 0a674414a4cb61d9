import type { RectifierKind } from '../design.js';

/** Regulation of small mains transformers, percent at a rating in VA. From memory of makers' tables; makers differ by a third. */
const USUAL: readonly (readonly [va: number, percent: number])[] = [
  [1.5, 40],
  [3, 33],
  [6, 26],
  [12, 20],
  [20, 16],
  [30, 13],
  [50, 11],
  [100, 9],
  [200, 7],
  [500, 5],
];

/** What share regulation may be off the usual when the design doesn't state it. */
export const REGULATION_DOUBT = 0.35;

/** The usual regulation of a mains transformer of this rating, percent; between table rows by the logarithm of VA. */
export function usualRegulationPercent(va: number): number {
  const above = USUAL.findIndex(([rating]) => rating >= va);
  const [firstRow] = USUAL;
  const lastRow = USUAL.at(-1);
  if (firstRow === undefined || lastRow === undefined) throw new Error('the table of regulations is empty');
  if (above === 0) return firstRow[1];
  const [upper, lower] = [USUAL[above], USUAL[above - 1]];
  if (upper === undefined || lower === undefined) return lastRow[1];
  const share = Math.log(va / lower[0]) / Math.log(upper[0] / lower[0]);
  return lower[1] + share * (upper[1] - lower[1]);
}

/** What a transformer of the design is, electrically. */
export interface Winding {
  /** Secondary RMS volts at rated load; of one half with a centre tap. */
  readonly ratedVolts: number;
  /** RMS; of each half with a centre tap. */
  readonly ratedAmps: number;
  /** (no-load volts - rated volts) / rated volts. */
  readonly regulation: number;
  /** All resistance seen at the secondary while it conducts, ohm; at one half with a centre tap. */
  readonly ohms: number;
  /** `ohms` as a share of regulation x rated volts / rated amps. */
  readonly ohmsShare: number;
  /** `written`: from the file. `usual`: from the rating. */
  readonly regulationFrom: 'written' | 'usual';
}

const CENTRE_TAP_SHARE = 0.75;

/** Halves of the winding that the rating in VA is spread over. */
const HALVES: Readonly<Record<RectifierKind, 1 | 2>> = {
  bridge: 1,
  'half-wave': 1,
  'centre-tap': 2,
  'split-bridge': 2,
};

interface TransformerFacts {
  readonly volts: number;
  readonly va?: number | undefined;
  readonly amps?: number | undefined;
  readonly regulation_percent?: number | undefined;
  readonly winding_ohms?: number | undefined;
}

/**
 * Rated amps, regulation and resistance of a secondary. One follows from the other:
 * ohms = regulation x rated volts / rated amps (definition of regulation).
 *
 * With a centre tap each half is rated VA / (2 x volts), and only one half conducts at a time. With copper losses
 * split evenly (common practice), one half has half the secondary's copper and sees the primary through half the
 * turns: three quarters of what both halves together would lose. In a split bridge both halves conduct at a time, so
 * that with both polarities loaded alike each half sees all of it.
 * @throws {RangeError} when neither VA nor amps are given; a loaded design gives one.
 */
export function windingOf(transformer: TransformerFacts, rectifier: RectifierKind): Winding {
  const { volts } = transformer;
  const halves = HALVES[rectifier];
  const ratedAmps = transformer.amps ?? (transformer.va ?? NaN) / (halves * volts);
  if (!(ratedAmps > 0)) throw new RangeError('transformer: va or amps is needed');
  if (transformer.winding_ohms !== undefined) {
    const ohms = transformer.winding_ohms;
    return {
      ratedVolts: volts,
      ratedAmps,
      ohms,
      ohmsShare: 1,
      regulation: (ohms * ratedAmps) / volts,
      regulationFrom: 'written',
    };
  }
  const percent = transformer.regulation_percent ?? usualRegulationPercent(halves * volts * ratedAmps);
  const regulation = percent / 100;
  const regulationFrom = transformer.regulation_percent === undefined ? 'usual' : 'written';
  const ohmsShare = rectifier === 'centre-tap' ? CENTRE_TAP_SHARE : 1;
  const ohms = (ohmsShare * regulation * volts) / ratedAmps;
  return { ratedVolts: volts, ratedAmps, regulation, ohms, ohmsShare, regulationFrom };
}
