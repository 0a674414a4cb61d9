/** What a transformer's plate says about one winding, or about one half of a centre-tapped one. */
export interface WindingRating {
  /** At rated load, RMS. */
  readonly ratedVolts: number;
  /** At rated load, RMS; volt-amperes / rated volts. */
  readonly ratedCurrent: number;
  /** (no-load volts - rated volts) / rated volts, 0.12 for 12 %. */
  readonly regulation: number;
}

/** A source for the rectifier: amplitude without load, and everything in series seen at the secondary. */
export interface WindingSource {
  readonly emfPeak: number;
  readonly seriesResistance: number;
}

/**
 * Amplitude and resistance from the rating: no-load volts = rated·(1 + regulation), and the resistance
 * that loses the difference at rated current into a resistor (definition of voltage regulation, IEC 60076-1).
 * Leakage inductance is left out: the small transformers of bench supplies are mostly resistive.
 */
export function sourceFromRating(rating: WindingRating): WindingSource {
  const { ratedVolts, ratedCurrent, regulation } = rating;
  return {
    emfPeak: Math.SQRT2 * ratedVolts * (1 + regulation),
    seriesResistance: (regulation * ratedVolts) / ratedCurrent,
  };
}

/**
 * One half of a centre-tapped winding, rated as a whole (`24 V CT`: volts and current end to end).
 *
 * With copper losses split evenly, as designers aim for (common practice), half of the whole
 * resistance R is the secondary's and half is the primary's seen through the full turns ratio. One half
 * has half the secondary's copper, and sees the primary through half the turns, a quarter of its ohms:
 * R/4 + R/8. Where the plate rates each half by itself (`12-0-12`, VA / 12 V), use `sourceFromRating` on
 * the half's volts instead.
 */
export function halfOfCentreTapped(whole: WindingRating): WindingSource {
  const endToEnd = sourceFromRating(whole);
  return { emfPeak: endToEnd.emfPeak / 2, seriesResistance: (3 / 8) * endToEnd.seriesResistance };
}
