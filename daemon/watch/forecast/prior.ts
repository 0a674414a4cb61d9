import { COLD, WARM, type Mix } from './grid.js';
import type { Rest } from './heating.js';

/** What is known of a part's warming before it is measured. */
export interface WarmingPrior {
  /** Settled rise over where it starts, K. */
  readonly riseK: number;
  readonly riseDeviationK: number;
  /** Slowest time constant, s; null: nothing known of it. */
  readonly timeConstantS: number | null;
  /** From the case to the air; null: nothing known of it. */
  readonly resistanceKPerW: number | null;
  /** Where it begins at a part that was warm already: the share of its losses by natural convection that its curve shows. */
  readonly changedConvection: number | null;
}

/** Of a regulator that nobody has said anything about: from barely warm to too hot (common practice). */
export const NOTHING_KNOWN: WarmingPrior = {
  riseK: 60,
  riseDeviationK: 60,
  timeConstantS: null,
  resistanceKPerW: null,
  changedConvection: null,
};

/** Hot parts settle a little quicker, because convection is stronger (McAdams). */
const WHEN_WARM = { timeConstant: 0.9, convection: 0.15 };

/** After a change that nobody knows, of a part that has shown its time constant: what it is made of stays the same. */
export function afterAChange(
  riseK: number,
  riseDeviationK: number,
  timeConstantS: number | null,
  rest: Rest = WHEN_WARM,
): WarmingPrior {
  return {
    ...NOTHING_KNOWN,
    riseK,
    riseDeviationK,
    timeConstantS: timeConstantS === null ? null : rest.timeConstant * timeConstantS,
    changedConvection: rest.convection,
  };
}

/** What is known of one kind of part, as the fit takes it. */
export interface Known {
  readonly mix: Mix;
  readonly riseK: number;
  readonly riseDeviationK: number;
  /** Share of the mix's second curve. */
  readonly mixed: number;
  readonly mixedDeviation: number;
  readonly fastK: number;
  readonly fastDeviationK: number;
  /** Logarithm of how plausible a time constant is, without a common constant. */
  readonly ofTau: (tau: number) => number;
  /** The same of a settled rise, beyond the normal distribution above. */
  readonly ofRise: (riseK: number) => number;
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
/** A heatsink of half the K/W has a little more than half as much again of aluminium (common practice). */
const TAU_POWER = 0.34;
const USUAL_K_PER_W = 9;
/** A case over its heatsink, with paste or a pad (common practice), K/W. */
const CASE_TO_SINK = 0.9;
const CASE_TO_SINK_SPREAD = 0.55;
/** A design's heat capacities are known to about this, as a share. */
const DESIGN_SPREAD = 0.35;
/** What was learnt before a change: how often it still holds, and how closely. */
const STILL_HOLDS = 0.75;
const LEARNT_SPREAD = 0.25;

const known = new WeakMap<WarmingPrior, readonly Known[]>();

/** A bare part, one on a heatsink and one in moving air; after a change only one. */
export function kindsOf(prior: WarmingPrior): readonly Known[] {
  const before = known.get(prior);
  if (before !== undefined) return before;
  // Asked for the same prior at every block.
  const { changedConvection: convection } = prior;
  const found =
    convection === null
      ? [bare(prior), onHeatsink(prior), blown(prior)]
      : [changed(prior, (convection - WARM.none) / (WARM.all - WARM.none))];
  known.set(prior, found);
  return found;
}

const any = (): number => 0;

function changed(prior: WarmingPrior, mixed: number): Known {
  return {
    mix: WARM,
    riseK: prior.riseK,
    riseDeviationK: prior.riseDeviationK,
    mixed,
    mixedDeviation: 0.4,
    fastK: 0,
    fastDeviationK: 5,
    ofTau: (tau) => Math.log(learnt(prior, tau)),
    ofRise: any,
  };
}

function bare(prior: WarmingPrior): Known {
  const { timeConstantS, resistanceKPerW } = prior;
  const fits = resistanceKPerW === null ? 1 : hump(resistanceKPerW, BARE_K_PER_W, RESISTANCE_SPREAD);
  return {
    mix: COLD,
    ...riseOf(prior),
    mixed: 0.5,
    mixedDeviation: 0.25,
    fastK: 0,
    fastDeviationK: 0.3,
    ofTau: (tau) => Math.log(fits * kindly(BARE, tau) * designed(timeConstantS, tau) + 1e-30),
  };
}

function onHeatsink(prior: WarmingPrior): Known {
  const { timeConstantS, resistanceKPerW, riseK } = prior;
  const isKnown = resistanceKPerW !== null;
  const held = isKnown ? Math.min(resistanceKPerW, HEATSINK_K_PER_W) : USUAL_K_PER_W;
  const fits = isKnown
    ? hump(Math.max(resistanceKPerW, HEATSINK_K_PER_W), HEATSINK_K_PER_W, RESISTANCE_SPREAD)
    : 1;
  const middleS = ON_A_HEATSINK.middleS * (held / USUAL_K_PER_W) ** TAU_POWER;
  const fastK = isKnown ? (CASE_TO_SINK * riseK) / resistanceKPerW : 6;
  return {
    mix: COLD,
    ...riseOf(prior),
    mixed: 0.75,
    mixedDeviation: 0.25,
    fastK,
    fastDeviationK: isKnown ? CASE_TO_SINK_SPREAD * fastK + 0.5 : 6.5,
    ofTau: (tau) =>
      Math.log(fits * kindly({ ...ON_A_HEATSINK, middleS }, tau) * designed(timeConstantS, tau) + 1e-30),
  };
}

/** A fan or a draught carries the heat off in proportion (any text on heat transfer). */
const BLOWN = { share: 0.06, middleS: 250, spread: 0.8, others: 0.2 };

function blown(prior: WarmingPrior): Known {
  return {
    mix: COLD,
    ...riseOf(prior),
    mixed: -0.8,
    mixedDeviation: 0.3,
    fastK: 2,
    fastDeviationK: 4,
    ofTau: (tau) => Math.log(kindly(BLOWN, tau) * designed(prior.timeConstantS, tau) + 1e-30),
  };
}

/**
 * A design is wrong by a share of what is true, so too low a rise is told more often than too high a one: the normal
 * distribution for the fit is wide, and what is beyond it is weighed afterwards.
 */
function riseOf(prior: WarmingPrior): Pick<Known, 'riseK' | 'riseDeviationK' | 'ofRise'> {
  const { riseK, riseDeviationK } = prior;
  if (prior === NOTHING_KNOWN) return { riseK, riseDeviationK, ofRise: any };
  // Of the power and of the resistance alike.
  const share = riseDeviationK / riseK / Math.SQRT2;
  const wideK = 1.5 * riseDeviationK;
  return {
    riseK,
    riseDeviationK: wideK,
    ofRise: (rise) => {
      const truly = Math.max(rise, 0.2 * riseK);
      const ofEach = (Math.sqrt(riseK / truly) - 1) / share;
      const ofWide = (rise - riseK) / wideK;
      return -(ofEach * ofEach) - Math.log(truly / riseK) + (ofWide * ofWide) / 2;
    },
  };
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
