import type { RectifierCircuit } from './circuit.js';
import { RectifierError } from './circuit.js';
import { runCycle } from './cycle.js';
import { followAgain } from './follow-again.js';
import { SOLUTION, collectNodes, measure } from './measure.js';
import type { RectifierForm } from './path.js';
import type { Path } from './path.js';
import { CIRCUIT, describeRow, reduce, writeCircuit } from './path.js';
import type { Workspace } from './pieces.js';
import {
  CURRENT,
  HOLD,
  MOST_PIECES,
  NODE_VOLTS,
  PIECE,
  addPiece,
  createWorkspace,
  evaluatePiece,
} from './pieces.js';
import { guessStart } from './start-guess.js';

/** Periodic steady state at the reservoir. SI units: V, A, W; `peak` of a sinusoid is its amplitude. */
export interface SteadyState {
  /** Node volts (behind the capacitor's own resistance) over a mains cycle. */
  readonly meanVolts: number;
  readonly valleyVolts: number;
  readonly peakVolts: number;
  readonly ripplePeakToPeak: number;
  /** Root mean square of the node volts less their mean. */
  readonly rippleRms: number;
  /** Amplitude of the ripple's component at the mains frequency; 0 with two equal pulses a cycle. */
  readonly rippleAtMains: number;
  readonly rippleAtTwiceMains: number;
  readonly rippleAtFourTimesMains: number;
  /** Of one pulse, in mains degrees; junctions: while above 1 % of the pulse's peak. */
  readonly conductionAngleDegrees: number;
  /** Current from the diodes into the node. */
  readonly rectifiedMeanCurrent: number;
  readonly rectifiedRmsCurrent: number;
  readonly rectifiedPeakCurrent: number;
  /** In the winding; in one half when centre-tapped. */
  readonly secondaryRmsCurrent: number;
  /** The capacitor's ripple current. */
  readonly capacitorRmsCurrent: number;
  /** What the load really drew; below the wanted current when starved. */
  readonly loadMeanCurrent: number;
  /** Of one conducting diode over the whole mains cycle. */
  readonly diodeMeanCurrent: number;
  readonly diodeRmsCurrent: number;
  readonly diodePeakCurrent: number;
  readonly diodeDissipation: number;
  readonly allDiodesDissipation: number;
  /** In winding and wiring, both halves together. */
  readonly seriesDissipation: number;
  /** In the capacitor's own resistance. */
  readonly capacitorDissipation: number;
  readonly loadPower: number;
  /** Delivered by the emf: loads and losses together. */
  readonly inputPower: number;
  /** The constant-current load pulled the node to 0 V for a part of the cycle and got less than it wanted. */
  readonly starved: boolean;
}

/** Node volts and rectified current at chosen instants of a mains cycle. */
export interface Waveform {
  /** Mains degrees from the emf's rising zero. */
  readonly degrees: Float64Array;
  readonly volts: Float64Array;
  readonly rectifiedCurrent: Float64Array;
}

const LOOSE = 3e-2;
const TIGHT = 1e-4;
/** Share of the period's charge by which a period may miss itself: junctions, and the exact closed form. */
const SMALL = 5e-6;
const SMALL_CLOSED_FORM = 1e-7;
/** The same where the map's jumps from step to step allow no better. */
const NOISE = 5e-5;
/** The same when a tight cycle is worth its price. */
const NEAR = 0.1;
/** A cycle's steps fit from volts that lie this share of the junction's volts away. */
const MENDABLE = 0.5;
const MOST_MENDS = 3;
const REFINE_AFTER = 24;
const MOST_ROUNDS = 200;

/** Solves one circuit. Throws RectifierError, naming every input, for bad numbers or no convergence. */
export function solveRectifier(circuit: RectifierCircuit, space: Workspace = createWorkspace()): SteadyState {
  solveCircuit(circuit, space);
  return readSolution(space.solution, 0);
}

/** Solves one circuit and samples it at `count` equal steps of one mains cycle, from the emf's rising zero. */
export function solveWaveform(
  circuit: RectifierCircuit,
  count: number,
  space: Workspace = createWorkspace(),
): Waveform {
  solveCircuit(circuit, space);
  const degrees = Float64Array.from({ length: count }, (_, j) => (360 * j) / count);
  const waveform: Waveform = {
    degrees,
    volts: new Float64Array(count),
    rectifiedCurrent: new Float64Array(count),
  };
  sampleInto(space, waveform);
  return waveform;
}

/**
 * Solves every row of `circuits` (columns `CIRCUIT`) into the same row of `solutions` (columns
 * `SOLUTION`, `starved` as 0 or 1) without allocating. Throws RectifierError as `solveRectifier` does.
 */
export function solveManyInto(
  form: RectifierForm,
  circuits: Float64Array,
  solutions: Float64Array,
  space: Workspace,
): void {
  const count = circuits.length / CIRCUIT.columns;
  for (let row = 0; row < count; row += 1) {
    solveRow(form, circuits, row, space);
    const to = row * SOLUTION.columns;
    for (let column = 0; column < SOLUTION.columns; column += 1)
      solutions[to + column] = space.solution[column]!;
  }
}

/** One row of a batch of solutions as an object. */
export function readSolution(solutions: Float64Array, row: number): SteadyState {
  const at = row * SOLUTION.columns;
  const entries = Object.entries(SOLUTION).filter(([name]) => name !== 'columns');
  const numbers = Object.fromEntries(entries.map(([name, column]) => [name, solutions[at + column]!]));
  return { ...numbers, starved: solutions[at + SOLUTION.starved] === 1 } as unknown as SteadyState;
}

/** Samples the circuit that `space` solved last at `waveform.degrees`. */
export function sampleInto(space: Workspace, waveform: Waveform): void {
  const { path, pieces } = space;
  const { degrees } = waveform;
  const last = (space.pieceCount - 1) * PIECE;
  const period = (path.period * 180) / Math.PI;
  let at = 0;
  for (let j = 0; j < degrees.length; j += 1) {
    const within = degrees[j]! - period * Math.floor(degrees[j]! / period);
    const angle = (within * Math.PI) / 180;
    // Degrees usually rise, so the piece is this one or one of the next.
    if (angle <= pieces[at + 1]!) at = 0;
    while (at < last && angle > pieces[at + 2]!) at += PIECE;
    evaluatePiece(space, at, angle);
    waveform.volts[j] = space.point[NODE_VOLTS]!;
    waveform.rectifiedCurrent[j] = space.point[CURRENT]!;
  }
}

/** What a circuit has in common with the rest of its batch. */
export function formOf(circuit: RectifierCircuit): RectifierForm {
  return { kind: circuit.kind, oneDiodeOpen: circuit.oneDiodeOpen, law: circuit.diode.law };
}

/** Solves into `space` (path, pieces, solution). */
export function solveCircuit(circuit: RectifierCircuit, space: Workspace): void {
  writeCircuit(circuit, space.row, 0);
  solveRow(formOf(circuit), space.row, 0, space);
}

function solveRow(form: RectifierForm, rows: Float64Array, row: number, space: Workspace): void {
  reduce(space.path, form, rows, row);
  if (!settle(space))
    throw new RectifierError('rectifier-unsolved', 'no steady state found', describeRow(form, rows, row));
  collectNodes(space);
  measure(space);
}

/**
 * Finds the capacitor volts that a period leaves unchanged. The map from one period to the next rises
 * with a slope between 0 and 1, so change(y) falls and has one zero: Newton's method with the slope
 * that the cycle reports, kept inside a bracket and halving it where Newton leaves it. Loose cycles lead
 * near; a tight one is then mended over its own steps, which costs a third of another.
 */
function settle(space: Workspace): boolean {
  const { path } = space;
  const highest = path.emf / path.k + path.r * path.current;
  if (path.current === 0 && path.conductance === 0) return restUnloaded(space);
  let low = 0;
  let high = highest;
  let y = guessStart(path);
  let share = path.shockley ? LOOSE : TIGHT;
  const small = smallChange(path);
  for (let round = 0; round < MOST_ROUNDS; round += 1) {
    const change = runCycle(space, y, share);
    if (Number.isNaN(change) || space.pieceCount >= MOST_PIECES) return false;
    const isSmall = Math.abs(change) <= small;
    if (share <= TIGHT && (isSmall || (share < TIGHT && Math.abs(change) <= NOISE * path.scaleVolts)))
      return true;
    const step = -change / Math.expm1(space.logSensitivity);
    if (share <= TIGHT && mend(space, y, step, small)) return true;
    if (change > 0) low = y;
    else high = y;
    y += step;
    if (share > TIGHT) {
      // A loose cycle may put the root on the wrong side, so its bracket isn't kept.
      share = round > 12 || Math.abs(change) < NEAR * path.scaleVolts ? TIGHT : LOOSE;
      low = 0;
      high = highest;
    }
    if (round === REFINE_AFTER) {
      // A step more or less makes the map jump by a part of its tolerance: make the jumps small.
      share *= 1e-3;
      low = 0;
      high = highest;
    }
    if (!(y >= low && y <= high)) y = (low + high) / 2;
  }
  return false;
}

function smallChange(path: Path): number {
  const highest = path.emf / path.k + path.r * path.current;
  return (path.shockley ? SMALL : SMALL_CLOSED_FORM) * path.scaleVolts + 4e-15 * highest;
}

/** Newton's method from the cycle at y over that cycle's own steps, while they fit; true when it settled. */
function mend(space: Workspace, y: number, step: number, small: number): boolean {
  const { path } = space;
  const furthest = (MENDABLE * path.junction) / path.k;
  let moved = step;
  for (let round = 0; round < MOST_MENDS && !space.starved && Math.abs(moved) <= furthest; round += 1) {
    const change = followAgain(space, Math.max(0, y + moved));
    if (Number.isNaN(change)) return false;
    if (Math.abs(change) <= small) return true;
    moved -= change / Math.expm1(space.logSensitivity);
  }
  return false;
}

/** Without any load the reservoir rests at the emf's peak less the drop at no current. */
function restUnloaded(space: Workspace): boolean {
  const { path } = space;
  space.pieceCount = 0;
  space.start = Math.max(0, path.emf - path.drop);
  space.angle = 0;
  space.change = 0;
  space.starved = false;
  addPiece(space, HOLD, path.period);
  return true;
}
