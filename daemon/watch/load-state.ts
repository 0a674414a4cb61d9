import { LOAD_STATES, type LoadState } from '../design/design.js';
import type { Spread } from '../design/parts/spread.js';
import type { PointPrediction } from '../predict/prediction.js';
import type { Draft } from './draft.js';
import type { ExpectEvent, SuspectsEvent } from './events.js';
import type { LoadBands } from './plan.js';
import type { Hold } from './hold.js';
import { predictionOf, type Sample } from './sample.js';
import type { Standing } from './settling/settling.js';
import type { LoadInForce, PointState } from './state.js';
import { HEALTHY } from './suspects/clouds.js';
import type { Suspect } from './suspects/judgement.js';
import { modelDoubt } from './suspects/scale.js';
import { LONGEST_WAIT_MS, readsInTime } from './worth-waiting.js';

/** From here on a load state counts as recognised: strong evidence by the trade's scale (Kass and Raftery 1995). */
const CLEARLY = Math.log(20);
/** Half a band that covers 95 %, in standard deviations. */
const DEVIATIONS_95 = 1.96;
/** Beyond so many of them it isn't that load either: something is wrong, and that is for others to tell. */
const FITS = 2.5;
/** Each is moved by a fault that leaves the other alone. */
const NEEDED: readonly RegExp[] = [/^transformer\.amps$/, /reservoir\.ripple$/];

/** A person says which load is on. */
export function takeLoad(draft: Draft, load: LoadState): void {
  begin(draft, load, { said: load, refuted: null });
}

/** Other bands stand: those of a step, or the answer to a load that was named or recognised. */
export function takeExpectedLoad(draft: Draft, { load, step }: Pick<ExpectEvent, 'load' | 'step'>): void {
  const { state, recognised, said, refuted } = draft.load;
  const isAnswer = step === null && [state, recognised, said].includes(load);
  begin(draft, load, isAnswer ? { said, refuted } : { said: load, refuted: null });
}

function begin(draft: Draft, load: LoadState, known: Pick<LoadInForce, 'said' | 'refuted'>): void {
  const { state, sinceMs, recognised } = draft.load;
  const goesOn = load === state && recognised === null;
  draft.load = { state: load, sinceMs: goesOn ? sinceMs : draft.atMs, recognised: null, ...known };
}

/**
 * Takes a recognised load back once everything that was measured, the volts of the rails and the heat of their
 * regulators included, speaks for a fault under the load that is said to be on: what is drawn too much looks like
 * another load to the winding and the reservoir.
 */
export function weighRecognisedLoad(
  draft: Draft,
  { from, otherLoad }: SuspectsEvent,
  leading: Suspect | null,
): void {
  const { state, recognised, said, refuted } = draft.load;
  if (otherLoad != null && otherLoad.load === refuted) draft.load = { ...draft.load, refuted: null };
  if (state === said || recognised !== null || otherLoad !== null) return;
  if (leading === null || leading.fault === HEALTHY) return;
  draft.load = { ...draft.load, recognised: said, refuted: state };
  draft.tell({ kind: 'load-recognised', atMs: draft.atMs, load: said, because: from });
}

/**
 * Whether a value that is outside may yet turn out as that of another load: it would fit one, and what that is
 * recognised by is measured but hasn't stood still since. Not for long: a fault is told a little later then.
 */
export function mayBeAnotherLoad(draft: Draft, sample: Sample, hold: Hold): boolean {
  const { loads } = draft.plan;
  const { state, recognised, refuted } = draft.load;
  if (loads === undefined || (draft.expecting !== null && draft.expecting.step !== null)) return false;
  if (draft.atMs - hold.sinceMs > LONGEST_WAIT_MS || !Object.hasOwn(loads[state], sample.point.id))
    return false;
  const fits = loadsThatFit(loads, sample);
  // Its bands are being worked out.
  if (recognised !== null) return fits.includes(recognised);
  return fits.some((load) => load !== state && load !== refuted) && isUndecided(draft, hold);
}

function loadsThatFit(loads: LoadBands, { point, value, guard, prediction }: Sample): readonly LoadState[] {
  const standardUncertainty = Math.hypot(guard / 2, modelDoubt(value, prediction.unit));
  return LOAD_STATES.filter(
    (load) => distance(loads[load], { point: point.id, value, standardUncertainty }) <= FITS,
  );
}

/** All that a load is recognised by is read often enough, and some of it hasn't stood still since. */
function isUndecided(draft: Draft, hold: Hold): boolean {
  const asked = NEEDED.map((needed) =>
    draft.points.find((point) => needed.test(point.id) && readsInTime(draft, point)),
  );
  return !asked.includes(undefined) && asked.some((point) => point !== undefined && !stoodSince(point, hold));
}

function stoodSince({ settling, atMs }: PointState, { sinceMs }: Hold): boolean {
  return settling?.kind === 'standing' && atMs !== null && atMs > sinceMs;
}

/** A settled value, and how surely it is known. */
interface Evidence {
  readonly point: string;
  readonly value: number;
  readonly standardUncertainty: number;
}

/**
 * Tells the load state for which what has settled speaks clearly, when it isn't the one in force. The winding's current
 * and a reservoir's ripple are needed at the same time, everything must fit that state, and no other may do nearly as
 * well: an open diode draws the current of a higher load with twice its ripple, a dried reservoir has the ripple of one
 * without its current. A step of the power-up says by itself which load it wants.
 * @param newest the point that has just settled, and where
 */
export function recogniseLoad(draft: Draft, newest: PointState, at: Standing): void {
  const { loads } = draft.plan;
  if (loads === undefined || (draft.expecting !== null && draft.expecting.step !== null)) return;
  if (!Object.hasOwn(loads[draft.load.state], newest.id)) return;
  const evidence = evidenceNow(draft, loads, newest, at);
  if (!NEEDED.every((needed) => evidence.some(({ point }) => needed.test(point)))) return;
  const load = clearest(loads, evidence);
  const { state, recognised, refuted } = draft.load;
  if (load === null || load === state || load === recognised || load === refuted) return;
  draft.load = { ...draft.load, recognised: load };
  draft.tell({
    kind: 'load-recognised',
    atMs: draft.atMs,
    load,
    because: evidence.map(({ point }) => point),
  });
}

/** Everything that stands still since the load in force began. */
function evidenceNow(draft: Draft, loads: LoadBands, newest: PointState, at: Standing): Evidence[] {
  return draft.points.flatMap((point) => {
    const standing = point.id === newest.id ? at : point.settling;
    if (standing?.kind !== 'standing' || standing.sinceMs < draft.load.sinceMs) return [];
    if (point.channel === null || draft.channels[point.channel]?.stale === true) return [];
    const predicted = predictionOf(draft.prediction, point.id);
    if (predicted === undefined || !Object.hasOwn(loads[draft.load.state], point.id)) return [];
    const one = evidenceOf(predicted, standing, point.id === newest.id ? newest.guard : point.guard);
    return tellsApart(loads, one) ? [one] : [];
  });
}

/** Not so the ripple of a rail, of which no meter shows a difference. */
function tellsApart(loads: LoadBands, { point, standardUncertainty }: Evidence): boolean {
  const typical = LOAD_STATES.map((load) => loads[load][point]?.typical ?? NaN);
  return Math.max(...typical) - Math.min(...typical) > standardUncertainty;
}

function evidenceOf(
  { id, unit }: PointPrediction,
  { value, deviationOfMean }: Standing,
  guard: number,
): Evidence {
  const standardUncertainty = Math.hypot(guard / 2, deviationOfMean, modelDoubt(value, unit));
  return { point: id, value, standardUncertainty };
}

/** The load state that fits, and beats each of the others by the ratio; null when none does. */
function clearest(loads: LoadBands, evidence: readonly Evidence[]): LoadState | null {
  for (const load of LOAD_STATES) {
    if (!evidence.every((one) => distance(loads[load], one) <= FITS)) continue;
    const others = LOAD_STATES.filter((one) => one !== load);
    if (others.every((other) => ratio(loads, load, other, evidence) >= CLEARLY)) return load;
  }
  return null;
}

/** Logarithm of the likelihood ratio of two load states. */
function ratio(loads: LoadBands, one: LoadState, other: LoadState, evidence: readonly Evidence[]): number {
  return likelihood(loads[one], evidence) - likelihood(loads[other], evidence);
}

/** Logarithm of the normal density of all of it, but for a common constant. */
function likelihood(bands: Readonly<Record<string, Spread>>, evidence: readonly Evidence[]): number {
  return evidence.reduce((sum, one) => {
    const off = distance(bands, one);
    return sum - (off * off) / 2 - Math.log(deviation(bands[one.point], one));
  }, 0);
}

/** From the state's typical value, in standard deviations. */
function distance(bands: Readonly<Record<string, Spread>>, one: Evidence): number {
  const band = bands[one.point];
  return band === undefined ? Infinity : Math.abs(one.value - band.typical) / deviation(band, one);
}

function deviation(band: Spread | undefined, { standardUncertainty }: Evidence): number {
  const halfWidth = band === undefined ? 0 : (band.high - band.low) / 2;
  return Math.hypot(halfWidth / DEVIATIONS_95, standardUncertainty);
}
