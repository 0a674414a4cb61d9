import { row, SECONDS } from './course-fit.js';

/** How the probe answers to the part's power, as learnt from its warming. */
export interface Response {
  /** How fast the heat would warm the cold part, K/s. */
  readonly heatKPerS: number;
  /** How far the case rises over its heatsink at once, K. */
  readonly fastK: number;
  readonly lagS: number;
  readonly timeConstantS: number;
  /** Share of its losses by natural convection. */
  readonly convection: number;
}

/** A bead in air follows with 7 to 26 s (common practice). */
export const AIR_LAGS = [7, 10, 15, 22] as const;
/** Nearer to the air than this a fall of it tells nothing, K. */
export const LEAST_LIFTED_K = 6;
const SHORTEST_S = 20;

/** exp(-t/lag) of each block's time t: of the part, of the probe, of a bead in air. */
const slowFading = row();
const quickFading = row();
const airFadings = AIR_LAGS.map((lagS) => ({ lagS, fading: row() }));

const slowS = ({ timeConstantS }: Response): number => Math.max(timeConstantS, SHORTEST_S);

/** Exponentials of the blocks from `first` on, so that the moments tried need one each; for the calls that follow. */
export function prepareAnswers(response: Response, first: number, count: number): void {
  fade(slowFading, slowS(response), first, count);
  fade(quickFading, response.lagS, first, count);
}

/** The same for the ways to the air, which few blocks ask for. */
export function prepareWaysToAir(first: number, count: number): void {
  for (const { lagS, fading } of airFadings) fade(fading, lagS, first, count);
}

/** Of the probe, K, after all the power came on at `momentS`: two lags in a row (any text on control). */
export function fillAnswer(
  pattern: Float64Array,
  response: Response,
  place: number,
  count: number,
  momentS: number,
): void {
  const { heatKPerS, fastK, lagS } = response;
  const tau = slowS(response);
  const riseK = heatKPerS * tau;
  const ofSlow = (-riseK * tau * Math.exp(momentS / tau)) / (tau - lagS);
  const ofQuick = ((riseK * lagS) / (tau - lagS) - fastK) * Math.exp(momentS / lagS);
  for (let at = place; at < count; at += 1) {
    pattern[at] = riseK + fastK + ofSlow * slowFading[at]! + ofQuick * quickFading[at]!;
  }
}

/** Of a bead that came off at `momentS`, `overAirK` warmer than the air, K; `lag` is a place among the lags. */
export function fillWayToAir(
  pattern: Float64Array,
  overAirK: number,
  lag: number,
  place: number,
  count: number,
  momentS: number,
): void {
  const { fading, lagS } = airFadings[lag]!;
  const ofFading = overAirK * Math.exp(momentS / lagS);
  for (let at = place; at < count; at += 1) pattern[at] = ofFading * fading[at]! - overAirK;
}

function fade(fading: Float64Array, lagS: number, first: number, count: number): void {
  for (let at = first; at < count; at += 1) fading[at] = Math.exp(-SECONDS[at]! / lagS);
}
