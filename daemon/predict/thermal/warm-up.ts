import { heatFlow, heatFlowSlope } from './surface.js';
import type { SurfaceLaw } from './surface.js';
import type { Stack } from './stack.js';

/** A stretch of time with constant heat and surroundings. */
export interface Spell {
  /** When it begins, s; it lasts until the next one or the last instant asked for. */
  readonly fromSeconds: number;
  readonly watts: number;
  /** °C. */
  readonly air: number;
  /** Replaces the stack's surface while a fan blows or a lid is on. */
  readonly surface?: SurfaceLaw;
}

export interface WarmUpCurve {
  readonly atSeconds: Float64Array;
  /** For each lump, junction first, its temperatures at those instants, °C. */
  readonly temperatures: readonly Float64Array[];
}

/** Error allowed in a step, K. */
const STEP_TOLERANCE = 5e-4;
const GAMMA = 0.5;

/**
 * Temperatures of a stack over time, from `start` (all at the first spell's air when left out).
 * `atSeconds` rises, from the first spell's beginning on. Adaptive Rosenbrock method of order 3, L-stable, so that the
 * quick junction costs nothing once it follows (RODAS3: Sandu and others, Atmospheric Environment 31, 1997); between
 * steps a cubic through values and slopes.
 */
export function warmUp(
  stack: Stack,
  spells: readonly Spell[],
  atSeconds: ArrayLike<number>,
  start?: readonly number[],
): WarmUpCurve {
  const first = spells[0];
  if (first === undefined) throw new RangeError('a warm-up needs at least one spell of heat and air');
  const count = stack.capacities.length;
  const curve: WarmUpCurve = {
    atSeconds: Float64Array.from(atSeconds),
    temperatures: stack.capacities.map(() => new Float64Array(atSeconds.length)),
  };
  const state = start === undefined ? new Float64Array(count).fill(first.air) : Float64Array.from(start);
  const end = atSeconds.length > 0 ? atSeconds[atSeconds.length - 1]! : first.fromSeconds;
  const filled = { next: 0 };
  spells.forEach((spell, k) => {
    const until = Math.min(end, spells[k + 1]?.fromSeconds ?? end);
    runSpell(stack, spell, until, state, curve, filled);
  });
  return curve;
}

/** Advances `state` to `until` and fills the curve on the way. */
function runSpell(
  stack: Stack,
  spell: Spell,
  until: number,
  state: Float64Array,
  curve: WarmUpCurve,
  filled: { next: number },
): void {
  const step = new StackStep(stack, spell);
  let seconds = spell.fromSeconds;
  fillInstant(curve, filled, seconds, state);
  let length = step.shortest / 10;
  step.slopes(state, step.slopeBefore);
  while (seconds < until) {
    const last = seconds + length >= until;
    const taken = last ? until - seconds : length;
    const error = step.attempt(state, taken);
    if (error <= STEP_TOLERANCE) {
      step.slopes(step.after, step.slopeAfter);
      fillStep(curve, filled, seconds, taken, state, step);
      state.set(step.after);
      step.slopeBefore.set(step.slopeAfter);
      seconds = last ? until : seconds + taken;
    }
    const growth = 0.9 * Math.cbrt(STEP_TOLERANCE / Math.max(error, 1e-12));
    length = taken * Math.min(5, Math.max(0.2, growth));
    if (!(length > 0)) throw new RangeError(notComputable(stack, spell));
  }
}

function notComputable(stack: Stack, spell: Spell): string {
  return (
    'a warm-up needs finite numbers, capacities and resistances above 0; ' +
    `it got ${JSON.stringify(stack)} in ${JSON.stringify(spell)}`
  );
}

function fillInstant(
  curve: WarmUpCurve,
  filled: { next: number },
  seconds: number,
  state: Float64Array,
): void {
  while (filled.next < curve.atSeconds.length && curve.atSeconds[filled.next]! <= seconds) {
    curve.temperatures.forEach((row, node) => (row[filled.next] = state[node]!));
    filled.next++;
  }
}

/** Cubic Hermite through both ends of an accepted step. */
function fillStep(
  curve: WarmUpCurve,
  filled: { next: number },
  from: number,
  length: number,
  before: Float64Array,
  step: StackStep,
): void {
  while (filled.next < curve.atSeconds.length && curve.atSeconds[filled.next]! <= from + length) {
    const x = (curve.atSeconds[filled.next]! - from) / length;
    const rest = 1 - x;
    for (let node = 0; node < before.length; node++) {
      const low = before[node]!;
      const high = step.after[node]!;
      const bend = rest * step.slopeBefore[node]! - x * step.slopeAfter[node]!;
      const chord = high - low;
      curve.temperatures[node]![filled.next] =
        low + x * chord + x * rest * (bend * length + (x - rest) * chord);
    }
    filled.next++;
  }
}

/** One Rosenbrock step of one spell, with its buffers. */
class StackStep {
  readonly after: Float64Array;
  readonly slopeBefore: Float64Array;
  readonly slopeAfter: Float64Array;
  /** Shortest time constant of a lump against its neighbours, s. */
  readonly shortest: number;
  readonly #stack: Stack;
  readonly #surface: SurfaceLaw;
  readonly #watts: number;
  readonly #air: number;
  readonly #stages: readonly Float64Array[];
  readonly #trial: Float64Array;
  readonly #diagonal: Float64Array;
  readonly #below: Float64Array;
  readonly #above: Float64Array;

  constructor(stack: Stack, spell: Spell) {
    const count = stack.capacities.length;
    const buffer = (): Float64Array => new Float64Array(count);
    this.#stack = stack;
    this.#surface = spell.surface ?? stack.surface;
    this.#watts = spell.watts;
    this.#air = spell.air;
    this.after = buffer();
    this.slopeBefore = buffer();
    this.slopeAfter = buffer();
    this.#stages = [buffer(), buffer(), buffer(), buffer()];
    this.#trial = buffer();
    this.#diagonal = buffer();
    this.#below = buffer();
    this.#above = buffer();
    this.#linearise(this.#trial.fill(spell.air + 50), Infinity);
    this.shortest = this.#diagonal.reduce((least, rate) => Math.min(least, 1 / rate), Infinity);
  }

  /** dT/dt of every lump, K/s. */
  slopes(temperatures: Float64Array, into: Float64Array): void {
    const { capacities, resistances } = this.#stack;
    let arriving = this.#watts;
    for (let k = 0; k < capacities.length; k++) {
      const leaving =
        k + 1 < capacities.length
          ? (temperatures[k]! - temperatures[k + 1]!) / resistances[k]!
          : heatFlow(this.#surface, temperatures[k]!, this.#air);
      into[k] = (arriving - leaving) / capacities[k]!;
      arriving = leaving;
    }
  }

  /** Tries a step of `length` seconds into `after`; returns its error estimate, K. */
  attempt(state: Float64Array, length: number): number {
    const [first, second, third, fourth] = this.#stages as [
      Float64Array,
      Float64Array,
      Float64Array,
      Float64Array,
    ];
    const trial = this.#trial;
    const count = state.length;
    this.#linearise(state, length);
    this.slopes(state, first);
    for (let k = 0; k < count; k++) second[k] = first[k]!;
    this.#solve(first);
    for (let k = 0; k < count; k++) {
      second[k]! += (4 / length) * first[k]!;
      trial[k] = state[k]! + 2 * first[k]!;
    }
    this.#solve(second);
    this.slopes(trial, third);
    for (let k = 0; k < count; k++) third[k]! += (first[k]! - second[k]!) / length;
    this.#solve(third);
    for (let k = 0; k < count; k++) trial[k]! += third[k]!;
    this.slopes(trial, fourth);
    for (let k = 0; k < count; k++) fourth[k]! += (first[k]! - second[k]! - (8 / 3) * third[k]!) / length;
    this.#solve(fourth);
    let error = 0;
    for (let k = 0; k < count; k++) {
      this.after[k] = trial[k]! + fourth[k]!;
      error = Math.max(error, Math.abs(fourth[k]!));
    }
    return error;
  }

  /** Builds and factors 1/(γ·length) − Jacobian, tridiagonal and diagonally dominant. */
  #linearise(state: Float64Array, length: number): void {
    const { capacities, resistances } = this.#stack;
    const count = capacities.length;
    for (let k = 0; k < count; k++) {
      const capacity = capacities[k]!;
      const inwards = k > 0 ? 1 / resistances[k - 1]! : 0;
      const outwards =
        k + 1 < count ? 1 / resistances[k]! : heatFlowSlope(this.#surface, state[k]!, this.#air);
      this.#below[k] = -inwards / capacity;
      this.#above[k] = k + 1 < count ? -outwards / capacity : 0;
      this.#diagonal[k] = 1 / (GAMMA * length) + (inwards + outwards) / capacity;
    }
    for (let k = 1; k < count; k++) {
      this.#below[k]! /= this.#diagonal[k - 1]!;
      this.#diagonal[k]! -= this.#below[k]! * this.#above[k - 1]!;
    }
  }

  #solve(values: Float64Array): void {
    const count = values.length;
    for (let k = 1; k < count; k++) values[k]! -= this.#below[k]! * values[k - 1]!;
    for (let k = count - 1; k >= 0; k--) {
      const next = k + 1 < count ? this.#above[k]! * values[k + 1]! : 0;
      values[k] = (values[k]! - next) / this.#diagonal[k]!;
    }
  }
}
