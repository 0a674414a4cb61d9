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
  /** Secondary RMS volts at rated load. */
  readonly ratedVolts: number;
  readonly ratedAmps: number;
  /** (no-load volts - rated volts) / rated volts. */
  readonly regulation: number;
  /** All resistance seen at the secondary, ohm. */
  readonly ohms: number;
  /** `written`: from the file. `usual`: from the rating. */
  readonly regulationFrom: 'written' | 'usual';
}

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
 * @throws {RangeError} when neither VA nor amps are given; a loaded design gives one.
 */
export function windingOf(transformer: TransformerFacts): Winding {
  const { volts } = transformer;
  const ratedAmps = transformer.amps ?? (transformer.va ?? NaN) / volts;
  if (!(ratedAmps > 0)) throw new RangeError('transformer: va or amps is needed');
  if (transformer.winding_ohms !== undefined) {
    const ohms = transformer.winding_ohms;
    return {
      ratedVolts: volts,
      ratedAmps,
      ohms,
      regulation: (ohms * ratedAmps) / volts,
      regulationFrom: 'written',
    };
  }
  const percent = transformer.regulation_percent ?? usualRegulationPercent(volts * ratedAmps);
  const regulation = percent / 100;
  const regulationFrom = transformer.regulation_percent === undefined ? 'usual' : 'written';
  return { ratedVolts: volts, ratedAmps, regulation, ohms: (regulation * volts) / ratedAmps, regulationFrom };
}
