import { coarser, type Fold } from './fold.js';
import { normalEquations, solveNormal, type NormalEquations } from './least-squares.js';

/**
 * A reservoir's waveform over one turn: it is charged in a short rise that bends, then falls nearly straight until
 * the next (the rectifier with a reservoir of any textbook). Rise k goes from joint 2k to 2k + 1, the fall after it
 * to the next rise; the joints are phases in rising order, the last fall runs over the turn's end. A part is the
 * straight line between its ends plus u(1 - u) times a polynomial, of 2nd degree in a rise and 1st in a fall.
 */
export interface Pulses {
  readonly joints: readonly number[];
  /** Volts at the joints, then the parts' polynomials in the joints' order. */
  readonly coefficients: Float64Array;
  /** Weighted sum of the squared residuals, V². */
  readonly residual: number;
}

const RISE_TERMS = 3;
const FALL_TERMS = 2;
const TERMS_IN_ROW = 2 + RISE_TERMS;
/** Of a turn of one rise. */
const SHORTEST_RISE = 0.04;
const SHORTEST_FALL = 0.15;
const SEARCH_PLACES = 24;
const COARSE_PLACES = 48;
const ROUGH_MOVE = 1 / 192;
const FINEST_MOVE = 1 / 1024;

/** The best waveform with one rise in the fold's turn. */
export function fitOnePulse(fold: Fold): Pulses | null {
  const coarse = coarser(fold, COARSE_PLACES);
  let best: Pulses | null = null;
  for (let from = 0; from < SEARCH_PLACES; from += 1) {
    for (let long = 1; long <= SEARCH_PLACES * (1 - SHORTEST_FALL); long += 1) {
      const found = fitJoints(coarse, [from / SEARCH_PLACES, (from + long) / SEARCH_PLACES]);
      if (found !== null && rises(found) && (best === null || found.residual < best.residual)) best = found;
    }
  }
  const rough = best && settle(coarse, best, 1 / (2 * SEARCH_PLACES), ROUGH_MOVE);
  const start = rough && fitJoints(fold, rough.joints);
  return start && settle(fold, start, ROUGH_MOVE, FINEST_MOVE);
}

/** The best waveform with two rises in the turn, from the one that the two halves have on average. */
export function fitTwoPulses(fold: Fold, average: Pulses): Pulses | null {
  const [from, until] = [average.joints[0]! / 2, average.joints[1]! / 2];
  const found = fitJoints(fold, [from, until, from + 0.5, until + 0.5]);
  return found === null ? null : settle(fold, found, 1 / SEARCH_PLACES, FINEST_MOVE);
}

/** The same pulses, on a fold that has changed a little. */
export function fitAgain(fold: Fold, pulses: Pulses): Pulses {
  const found = fitJoints(fold, pulses.joints);
  return found === null ? pulses : settle(fold, found, 1 / SEARCH_PLACES, FINEST_MOVE);
}

/**
 * What each pulse brings, in volts on the reservoir: the gain of its rise and what the load takes meanwhile, which
 * is as much a turn as during the falls (Q = C·U). Not above 0 where nothing is charged.
 */
export function charges(pulses: Pulses): readonly number[] {
  const { joints } = pulses;
  const gained = gains(pulses);
  const widths = gained.map((_, k) => joints[2 * k + 1]! - joints[2 * k]!);
  const falling = 1 - widths.reduce((sum, width) => sum + width, 0);
  const fallATurn = gained.reduce((sum, gain) => sum + gain, 0) / falling;
  return gained.map((gain, k) => gain + fallATurn * widths[k]!);
}

/** How much each rise gains, V; below 0 for one that falls. */
function gains({ joints, coefficients }: Pulses): readonly number[] {
  return Array.from({ length: joints.length / 2 }, (_, k) => coefficients[2 * k + 1]! - coefficients[2 * k]!);
}

/** Volts at a phase of the turn, 0 to 1. */
export function pulsesAt({ joints, coefficients }: Pulses, phase: number): number {
  const terms = termsAt(joints, phase);
  let sum = 0;
  for (let i = 0; i < terms.count; i += 1) sum += terms.values[i]! * coefficients[terms.places[i]!]!;
  return sum;
}

function rises(pulses: Pulses): boolean {
  return gains(pulses).every((gain) => gain > 0);
}

/** Moves one joint after the other by ever smaller steps while that leaves less. */
function settle(fold: Fold, start: Pulses, firstMove: number, lastMove: number): Pulses {
  let best = start;
  for (let move = firstMove; move >= lastMove; move /= 2) {
    for (let round = 0, moved = true; moved && round < 8; round += 1) {
      const before = best;
      for (let k = 0; k < best.joints.length; k += 1) {
        for (const shift of [-move, move]) {
          const joints = best.joints.map((joint, at) => (at === k ? joint + shift : joint));
          const found = fitJoints(fold, joints);
          if (found !== null && found.residual < best.residual) best = found;
        }
      }
      moved = best !== before;
    }
  }
  return best;
}

function fitJoints(fold: Fold, joints: readonly number[]): Pulses | null {
  if (!farEnough(joints)) return null;
  const equations = normalEquations(sizeFor(joints.length));
  for (let i = 0; i < fold.phases.length; i += 1) {
    addSparse(equations, termsAt(joints, fold.phases[i]!), fold.values[i]!, fold.weights[i]!);
  }
  holdEmptyParts(equations);
  const solution = solveNormal(equations);
  return solution && { joints, coefficients: solution.coefficients, residual: solution.residual };
}

function sizeFor(joints: number): number {
  return joints + (joints / 2) * (RISE_TERMS + FALL_TERMS);
}

function farEnough(joints: readonly number[]): boolean {
  const rises = joints.length / 2;
  return joints.every((joint, k) => {
    const next = k + 1 < joints.length ? joints[k + 1]! : joints[0]! + 1;
    return next - joint >= (k % 2 === 0 ? SHORTEST_RISE : SHORTEST_FALL) / rises;
  });
}

interface Terms {
  readonly places: Int32Array;
  readonly values: Float64Array;
  count: number;
}

// One scratch for every row: at most TERMS_IN_ROW terms are not zero, and each row is used before the next is made.
const scratch: Terms = {
  places: new Int32Array(TERMS_IN_ROW),
  values: new Float64Array(TERMS_IN_ROW),
  count: 0,
};

function termsAt(joints: readonly number[], phase: number): Terms {
  const count = joints.length;
  const turns = phase < joints[0]! - Math.floor(joints[0]!) ? phase + 1 : phase;
  const along = turns + Math.floor(joints[0]!);
  let part = count - 1;
  while (part > 0 && joints[part]! > along) part -= 1;
  const from = joints[part]!;
  const until = part + 1 < count ? joints[part + 1]! : joints[0]! + 1;
  const u = (along - from) / (until - from);
  const { places, values } = scratch;
  places[0] = part;
  values[0] = 1 - u;
  places[1] = (part + 1) % count;
  values[1] = u;
  const terms = part % 2 === 0 ? RISE_TERMS : FALL_TERMS;
  const first = count + (part >> 1) * (RISE_TERMS + FALL_TERMS) + (part % 2 === 0 ? 0 : RISE_TERMS);
  let value = u * (1 - u);
  for (let k = 0; k < terms; k += 1) {
    places[2 + k] = first + k;
    values[2 + k] = value;
    value *= u - 0.5;
  }
  scratch.count = 2 + terms;
  return scratch;
}

function addSparse(equations: NormalEquations, terms: Terms, value: number, weight: number): void {
  const { matrix, right, size } = equations;
  for (let i = 0; i < terms.count; i += 1) {
    const row = terms.places[i]!;
    const weighted = weight * terms.values[i]!;
    right[row]! += weighted * value;
    for (let j = 0; j < terms.count; j += 1) {
      const column = terms.places[j]!;
      if (column <= row) matrix[row * size + column]! += weighted * terms.values[j]!;
    }
  }
  equations.square += weight * value * value;
}

/** A short part with few samples can't bend as it likes: every coefficient is drawn a little to 0. */
function holdEmptyParts(equations: NormalEquations): void {
  const { matrix, size } = equations;
  for (let i = 0; i < size; i += 1) matrix[i * size + i]! += 1e-6;
}
