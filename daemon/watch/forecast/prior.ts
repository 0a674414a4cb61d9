/** What is known of a part's warming before it is measured. */
export interface WarmingPrior {
  /** Settled rise over its air, K. */
  readonly riseK: number;
  readonly riseDeviationK: number;
  /** Slowest time constant, s; null: nothing known of it. */
  readonly timeConstantS: number | null;
}

/** Of a regulator that nobody has said anything about: from barely warm to too hot (common practice). */
export const NOTHING_KNOWN: WarmingPrior = { riseK: 40, riseDeviationK: 40, timeConstantS: null };

/**
 * Heat capacity times thermal resistance: a bare TO-220 (about 1.3 J/K, 50 to 65 K/W in still air) settles with some 75 s,
 * aluminium plates and extrusions of the usual thickness with some 500 s, shorter with a fan (common practice).
 */
const BARE_S = 75;
const BARE_SPREAD = 0.45;
const HEATSINK_S = 500;
const HEATSINK_SPREAD = 0.5;
const ANY_S = 300;
const ANY_SPREAD = 1.2;
/** A design's heat capacities are known to about this, as a share. */
const DESIGN_SPREAD = 0.35;

let last: {
  readonly taus: readonly number[];
  readonly timeConstantS: number | null;
  readonly found: readonly number[];
} = {
  taus: [],
  timeConstantS: null,
  found: [],
};

/** Logarithm of how plausible a time constant is, for each of `taus`, without a common constant. */
export function plausibilities(taus: readonly number[], { timeConstantS }: WarmingPrior): readonly number[] {
  // Asked for the same list at every block.
  if (last.taus !== taus || last.timeConstantS !== timeConstantS) {
    last = { taus, timeConstantS, found: logarithms(taus, timeConstantS) };
  }
  return last.found;
}

function logarithms(taus: readonly number[], timeConstantS: number | null): readonly number[] {
  return taus.map((tau) =>
    Math.log(
      timeConstantS === null
        ? 0.45 * bell(tau, BARE_S, BARE_SPREAD) +
            0.5 * bell(tau, HEATSINK_S, HEATSINK_SPREAD) +
            0.05 * bell(tau, ANY_S, ANY_SPREAD)
        : 0.9 * bell(tau, timeConstantS, DESIGN_SPREAD) + 0.1 * bell(tau, ANY_S, ANY_SPREAD),
    ),
  );
}

/** Normal in the logarithm. */
function bell(value: number, centre: number, spread: number): number {
  const z = Math.log(value / centre) / spread;
  return Math.exp((-z * z) / 2) / spread;
}
