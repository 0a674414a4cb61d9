import { CONVECTIONS, SHAPES, tauOf } from './grid.js';

/** What is known of a part's warming before it is measured. */
export interface WarmingPrior {
  /** Settled rise over where it starts, K. */
  readonly riseK: number;
  readonly riseDeviationK: number;
  /** Slowest time constant, s; null: nothing known of it. */
  readonly timeConstantS: number | null;
  /** From the case to the air; null: nothing known of it. */
  readonly resistanceKPerW: number | null;
  /** Begins at a part that was warm already. */
  readonly isChanged: boolean;
}

/** Of a regulator that nobody has said anything about: from barely warm to too hot (common practice). */
export const NOTHING_KNOWN: WarmingPrior = {
  riseK: 60,
  riseDeviationK: 60,
  timeConstantS: null,
  resistanceKPerW: null,
  isChanged: false,
};

/** Hot parts settle a little quicker, because convection is stronger (McAdams). */
const WHEN_WARM = 0.9;

/** After a change, of a part that has shown its time constant: what it is made of stays the same. */
export function afterAChange(
  riseK: number,
  riseDeviationK: number,
  timeConstantS: number | null,
): WarmingPrior {
  return {
    ...NOTHING_KNOWN,
    riseK,
    riseDeviationK,
    timeConstantS: timeConstantS === null ? null : WHEN_WARM * timeConstantS,
    isChanged: true,
  };
}

/**
 * Heat capacity times thermal resistance: a bare TO-220 (1 to 2.5 J/K, 40 to 65 K/W in still air) settles with some 85 s,
 * aluminium plates and extrusions of the usual thickness with some 550 s, shorter with a fan (common practice).
 */
const BARE = { share: 0.4, middleS: 85, spread: 0.33, others: 0.03 };
const ON_A_HEATSINK = { share: 0.6, middleS: 550, spread: 0.65, others: 0.05 };
const ANY_S = 300;
const ANY_SPREAD = 1.2;
/** A bare TO-220's K/W, and the most that one would call a heatsink. */
const BARE_K_PER_W = 52;
const HEATSINK_K_PER_W = 25;
const RESISTANCE_SPREAD = 0.3;
/** A design's heat capacities are known to about this, as a share. */
const DESIGN_SPREAD = 0.35;
/** What was learnt before a change: how often it still holds, and how closely. */
const STILL_HOLDS = 0.75;
const LEARNT_SPREAD = 0.25;
/** Of each share of convection. */
const COLD = [0.06, 0.24, 0.38, 0.32];
/** From one warm state to the next, losses are closer to proportional. */
const WARM = [0.7, 0.2, 0.07, 0.03];

const known = new WeakMap<WarmingPrior, readonly Float64Array[]>();

/** Logarithm of how plausible each shape is, without a common constant: of a bare part, of one on a heatsink. */
export function plausibilities(prior: WarmingPrior): readonly Float64Array[] {
  const before = known.get(prior);
  if (before !== undefined) return before;
  // Asked for the same prior at every block.
  const found = prior.isChanged
    ? [tableOf(WARM, (tau) => learnt(prior, tau)), tableOf(WARM, (tau) => learnt(prior, tau))]
    : [tableOf(COLD, (tau) => bare(prior, tau)), tableOf(COLD, (tau) => onHeatsink(prior, tau))];
  known.set(prior, found);
  return found;
}

function tableOf(convections: readonly number[], ofTau: (tau: number) => number): Float64Array {
  return Float64Array.from({ length: SHAPES }, (_, shape) =>
    Math.log(convections[shape % CONVECTIONS.length]! * ofTau(tauOf(shape))),
  );
}

function bare({ timeConstantS, resistanceKPerW }: WarmingPrior, tau: number): number {
  const fits = resistanceKPerW === null ? 1 : hump(resistanceKPerW, BARE_K_PER_W, RESISTANCE_SPREAD);
  return fits * kindly(BARE, tau) * designed(timeConstantS, tau);
}

function onHeatsink({ timeConstantS, resistanceKPerW }: WarmingPrior, tau: number): number {
  const fits =
    resistanceKPerW === null
      ? 1
      : hump(Math.max(resistanceKPerW, HEATSINK_K_PER_W), HEATSINK_K_PER_W, RESISTANCE_SPREAD);
  return fits * kindly(ON_A_HEATSINK, tau) * designed(timeConstantS, tau);
}

function kindly({ share, middleS, spread, others }: typeof BARE, tau: number): number {
  return share * ((1 - others) * bell(tau, middleS, spread) + others * bell(tau, ANY_S, ANY_SPREAD));
}

function designed(timeConstantS: number | null, tau: number): number {
  if (timeConstantS === null) return 1;
  return 0.9 * bell(tau, timeConstantS, DESIGN_SPREAD) + 0.1 * bell(tau, ANY_S, ANY_SPREAD);
}

function learnt({ timeConstantS }: WarmingPrior, tau: number): number {
  const any = bell(tau, ANY_S, ANY_SPREAD);
  if (timeConstantS === null) return any;
  return STILL_HOLDS * bell(tau, timeConstantS, LEARNT_SPREAD) + (1 - STILL_HOLDS) * any;
}

/** Normal in the logarithm. */
function bell(value: number, centre: number, spread: number): number {
  return hump(value, centre, spread) / spread;
}

function hump(value: number, centre: number, spread: number): number {
  const z = Math.log(value / centre) / spread;
  return Math.exp((-z * z) / 2);
}
