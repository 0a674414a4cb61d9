import type { LoadState } from './design/design.js';
import type { BandSource } from './band-source.js';
import type { BandAnswer } from './expected-bands.js';
import type { Measurement } from './predict/engine/measured-cloud.js';
import type { PointPrediction } from './predict/prediction.js';
import { sourceWords } from './predict/source-words.js';
import type { Effect, SettledEffect } from './watch/effects.js';
import type { ExpectedBand, ExpectEvent, WatchEvent } from './watch/events.js';
import type { WatchPlan } from './watch/plan.js';
import { pointOf, type WatchState } from './watch/state.js';

/** At most one change of what is expected in this time. */
const LEAST_BETWEEN_MS = 2000;
/** So long after naming a load, it is on. */
const SWITCHES_WITHIN_MS = 10_000;
/** The mains wanders by about this share within minutes (common practice): what was measured then is so much older now. */
const MAINS_WANDERS = 0.01;

/**
 * Answers a load that was named or recognised, and what has settled, with the bands that stand from then on. It listens
 * to a live session; in a replay the recorded events do the same. While a step's own bands stand it is silent.
 */
export class Expectations {
  readonly #plan: WatchPlan;
  readonly #source: BandSource;
  readonly #take: (event: Omit<ExpectEvent, 'atMs'>) => void;
  #load: LoadState;
  /** The newest of each point, and those of them that have counted under the load in force. */
  readonly #settled = new Map<string, SettledEffect>();
  readonly #counted = new Set<SettledEffect>();
  /** When the load in force began, and the points that had settled under it before that was known. */
  #sinceMs = 0;
  #alreadyUnder: readonly string[] = [];
  readonly #measurements = new Map<string, Measurement>();
  #sent: ExpectEvent['bands'] | null = null;
  #sentAtMs = -Infinity;
  #nowMs = 0;
  #inStep = false;
  #answer: BandAnswer | null = null;
  /** Grows with every change of the load or a step: older answers no longer count. */
  #era = 0;
  #isAsking = false;
  #wantsAnswer = false;

  constructor(plan: WatchPlan, source: BandSource, take: (event: Omit<ExpectEvent, 'atMs'>) => void) {
    this.#plan = plan;
    this.#source = source;
    this.#take = take;
    this.#load = plan.prediction.load;
  }

  onStep(event: WatchEvent, state: WatchState, effects: readonly Effect[]): void {
    this.#nowMs = state.nowMs;
    if (event.kind === 'load') this.#changeLoad(event.load, []);
    if (event.kind === 'expect' && event.bands !== this.#sent) this.#giveWay(event);
    for (const effect of effects) {
      if (effect.kind === 'settled') this.#settled.set(effect.point, effect);
      if (effect.kind === 'load-recognised') this.#changeLoad(effect.load, effect.because);
    }
    if (event.kind !== 'tick' || this.#inStep) return;
    this.#measure(state);
    this.#send();
  }

  stop(): Promise<void> {
    return this.#source.stop();
  }

  /** @param alreadyUnder points that have settled under the new load already. */
  #changeLoad(load: LoadState, alreadyUnder: readonly string[]): void {
    if (this.#inStep || load === this.#load) return;
    this.#begin(load, alreadyUnder);
    this.#ask();
  }

  /** Somebody else says what is expected: a step of the power-up, or its end. */
  #giveWay({ load, step }: ExpectEvent): void {
    this.#inStep = step !== null;
    this.#begin(load, step === null ? [...this.#settled.keys()] : []);
  }

  #begin(load: LoadState, alreadyUnder: readonly string[]): void {
    this.#load = load;
    this.#era += 1;
    this.#answer = null;
    this.#wantsAnswer = false;
    this.#measurements.clear();
    this.#counted.clear();
    this.#sinceMs = this.#nowMs;
    this.#alreadyUnder = alreadyUnder;
  }

  /** What is as expected, or may be, tells more of this very supply; what is outside tells of a fault. */
  #measure(state: WatchState): void {
    for (const [point, effect] of this.#settled) {
      const found = pointOf(state, point);
      if (found?.settling?.kind !== 'standing') {
        this.#settled.delete(point);
        continue;
      }
      if (this.#counted.has(effect) || !this.#isUnderThisLoad(effect)) continue;
      if (found.verdict !== 'inside' && found.verdict !== 'doubtful') continue;
      this.#counted.add(effect);
      const prediction = this.#plan.prediction.points[point];
      if (prediction === undefined || isStillCold(prediction, effect.value)) continue;
      if (this.#takeMeasurement(measurementOf(prediction, effect))) this.#ask();
    }
  }

  /** A person names the load a little before or after they switch it; what stands on after that stands under it. */
  #isUnderThisLoad({ point, atMs }: SettledEffect): boolean {
    if (atMs >= this.#sinceMs || this.#alreadyUnder.includes(point)) return true;
    return this.#nowMs - this.#sinceMs >= SWITCHES_WITHIN_MS;
  }

  /** Whether it says something new. */
  #takeMeasurement(now: Measurement): boolean {
    const before = this.#measurements.get(now.point);
    if (before !== undefined && !saysMore(now, before)) return false;
    this.#measurements.delete(now.point);
    this.#measurements.set(now.point, now);
    return true;
  }

  #ask(): void {
    this.#wantsAnswer = true;
    if (this.#isAsking) return;
    this.#isAsking = true;
    this.#wantsAnswer = false;
    const era = this.#era;
    this.#source.ask({ load: this.#load, measurements: [...this.#measurements.values()] }, (answer) => {
      this.#isAsking = false;
      if (era === this.#era) this.#answer = answer;
      if (this.#wantsAnswer) this.#ask();
    });
  }

  #send(): void {
    if (this.#answer === null || this.#nowMs - this.#sentAtMs < LEAST_BETWEEN_MS) return;
    const { load, bands, measured } = this.#answer;
    this.#answer = null;
    this.#sentAtMs = this.#nowMs;
    this.#sent = otherThan(this.#plan, bands);
    this.#take({ kind: 'expect', load, step: null, measured, bands: this.#sent });
  }
}

/** It is another value beyond doubt (twice the uncertainty of the difference, JCGM 100, 5.1.2 and 6.2), or far surer. */
function saysMore(now: Measurement, before: Measurement): boolean {
  const [u, earlier] = [now.standardUncertainty, before.standardUncertainty];
  return Math.abs(now.value - before.value) > 2 * Math.hypot(u, earlier) || u < earlier / 2;
}

/** It settled where it was before power came on, and has its warming before it. */
function isStillCold({ unit, low }: PointPrediction, value: number): boolean {
  return unit === 'degC' && value < low;
}

function measurementOf({ widthFrom }: PointPrediction, effect: SettledEffect): Measurement {
  const { point, value } = effect;
  const fromMains = widthFrom.find(({ from }) => from === sourceWords('mainsVolts'))?.share ?? 0;
  const wandered = MAINS_WANDERS * Math.abs(value) * Math.sqrt(fromMains);
  return { point, value, standardUncertainty: Math.hypot(effect.standardUncertainty, wandered) };
}

/** A band that the session began with needs no word. */
function otherThan({ prediction }: WatchPlan, bands: BandAnswer['bands']): ExpectEvent['bands'] {
  return Object.fromEntries(
    Object.entries(bands).filter(([id, band]) => !isSame(prediction.points[id], band)),
  );
}

function isSame(before: PointPrediction | undefined, now: ExpectedBand): boolean {
  return (
    before?.low === now.low &&
    before.typical === now.typical &&
    before.high === now.high &&
    before.coldest === now.coldest
  );
}
