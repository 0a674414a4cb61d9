import { SUM, integrateHolds } from './hold-integrals.js';
import type { Path } from './path.js';
import type { Workspace } from './pieces.js';
import {
  CLAMP,
  CAPACITOR_CURRENT,
  CURRENT,
  HOLD,
  LINEAR,
  MOST_NODES,
  NODE,
  NODE_VOLTS,
  PIECE,
  STEP,
  evaluatePiece,
  evaluateWith,
  pieceVolts,
} from './pieces.js';
import { C1, C2, W1, W2, W3 } from './radau.js';

/** Columns of a solution; meanings and units stand on `SteadyState`. */
export const SOLUTION = {
  meanVolts: 0,
  valleyVolts: 1,
  peakVolts: 2,
  ripplePeakToPeak: 3,
  rippleRms: 4,
  rippleAtMains: 5,
  rippleAtTwiceMains: 6,
  rippleAtFourTimesMains: 7,
  conductionAngleDegrees: 8,
  rectifiedMeanCurrent: 9,
  rectifiedRmsCurrent: 10,
  rectifiedPeakCurrent: 11,
  secondaryRmsCurrent: 12,
  capacitorRmsCurrent: 13,
  loadMeanCurrent: 14,
  diodeMeanCurrent: 15,
  diodeRmsCurrent: 16,
  diodePeakCurrent: 17,
  diodeDissipation: 18,
  allDiodesDissipation: 19,
  seriesDissipation: 20,
  capacitorDissipation: 21,
  loadPower: 22,
  inputPower: 23,
  starved: 24,
  columns: 25,
} as const;

// Six-point Gauss-Legendre on [0, 1] (Abramowitz and Stegun, table 25.4).
const GAUSS_X = [0.2386191860831969, 0.6612093864662645, 0.932469514203152];
const GAUSS_W = [0.467913934572691, 0.3607615730481386, 0.1713244923791704];

// The nodes and weights again: constants of this file are faster than imported ones.
const N1 = C1;
const N2 = C2;
const WEIGHT1 = W1;
const WEIGHT2 = W2;
const WEIGHT3 = W3;

/** Share of its surroundings to which an extreme's angle is found; its height is much nearer. */
const NEAR_EXTREME = 1e-3;
/** Share of the junction's volts, and so of the current, to which a crossing is found. */
const NEAR_CROSSING = 1e-4;

const LONGEST_PANEL = 0.8;
/** While clamped the current follows the emf, steeply near the knee. */
const CLAMP_PANEL = 0.12;

/**
 * Turns the pieces of a solved period into quadrature nodes, but for the insides of those that hold, which
 * have closed forms. Switching instants are corners of the waveform and get a node without weight, so that no
 * extreme hides in one.
 */
export function collectNodes(space: Workspace): void {
  space.nodeCount = 0;
  let before = HOLD;
  for (let at = 0; at < space.pieceCount * PIECE; at += PIECE) {
    const from = space.pieces[at + 1]!;
    const until = space.pieces[at + 2]!;
    const kind = space.pieces[at]!;
    if (kind !== STEP || before !== STEP) addNode(space, at, from, 0);
    before = kind;
    if (kind === STEP) addStepNodes(space, at);
    else if (kind === LINEAR) addPanels(space, at, from, until, space.pieces[at + 4]!);
    else if (kind === CLAMP) addClampPanels(space, at, from, until);
  }
  addNode(space, (space.pieceCount - 1) * PIECE, space.path.period, 0);
}

/** Panels short enough for the harmonics, and at the start for an exponential of this rate. */
function addPanels(
  space: Workspace,
  at: number,
  from: number,
  until: number,
  rate: number,
  longest = LONGEST_PANEL,
): void {
  let start = from;
  let length = Math.min(longest, 2 / rate);
  while (start < until) {
    const rest = until - start;
    const end = rest <= length * 1.0001 ? until : start + (rest < 2 * length ? rest / 2 : length);
    addGauss(space, at, start, end);
    start = end;
    length = Math.min(longest, 3 * length);
  }
}

/** Panels split where the clamped current turns on, on both ways. */
function addClampPanels(space: Workspace, at: number, from: number, until: number): void {
  const { path } = space;
  const knee = path.shockley
    ? path.junction * Math.log1p(path.junction / (path.clampResistance * path.saturation))
    : path.drop;
  const soft = 8 * path.junction;
  let start = from;
  for (const volts of [knee - soft, knee, knee + soft])
    start = panelsTo(space, at, start, volts, until, false);
  for (const volts of [knee + soft, knee, knee - soft])
    start = panelsTo(space, at, start, volts, until, true);
  addPanels(space, at, start, until, 0, CLAMP_PANEL);
}

function panelsTo(
  space: Workspace,
  at: number,
  start: number,
  volts: number,
  until: number,
  falls: boolean,
): number {
  const angle = Math.asin(Math.min(1, Math.max(0, volts / space.path.emf)));
  const end = Math.min(until, falls ? Math.PI - angle : angle);
  if (end <= start) return start;
  addPanels(space, at, start, end, 4 / (end - start), CLAMP_PANEL);
  return end;
}

function addGauss(space: Workspace, at: number, from: number, until: number): void {
  const half = (until - from) / 2;
  const middle = (from + until) / 2;
  for (let j = 2; j >= 0; j -= 1) addNode(space, at, middle - half * GAUSS_X[j]!, half * GAUSS_W[j]!);
  for (let j = 0; j < 3; j += 1) addNode(space, at, middle + half * GAUSS_X[j]!, half * GAUSS_W[j]!);
}

function addNode(space: Workspace, at: number, angle: number, weight: number): void {
  const { nodes, point } = space;
  if (space.nodeCount >= MOST_NODES) return;
  const sine = Math.sin(angle);
  evaluateWith(space, at, angle, sine);
  const to = space.nodeCount * NODE;
  nodes[to] = angle;
  nodes[to + 1] = weight;
  nodes[to + 2] = point[CURRENT]!;
  nodes[to + 3] = point[NODE_VOLTS]!;
  nodes[to + 4] = point[CAPACITOR_CURRENT]!;
  nodes[to + 5] = sine;
  nodes[to + 6] = Math.cos(angle);
  // Of two pieces that meet here, the earlier one reaches back from this node.
  nodes[to + 7] = weight === 0 && at > 0 && angle === space.pieces[at + 1] ? at - PIECE : at;
  space.nodeCount += 1;
}

function addStepNodes(space: Workspace, at: number): void {
  const { pieces } = space;
  const from = pieces[at + 1]!;
  const h = pieces[at + 2]! - from;
  addStage(space, at, 0, from + N1 * h, h * WEIGHT1);
  addStage(space, at, 1, from + N2 * h, h * WEIGHT2);
  addStage(space, at, 2, pieces[at + 2]!, h * WEIGHT3);
}

function addStage(space: Workspace, at: number, stage: number, angle: number, weight: number): void {
  const { nodes, path, pieces } = space;
  if (space.nodeCount >= MOST_NODES) return;
  const to = space.nodeCount * NODE;
  const y = space.start + pieces[at + 3]! + pieces[at + 4 + stage]!;
  const passed = Math.max(0, pieces[at + 7 + stage]!);
  nodes[to] = angle;
  nodes[to + 1] = weight;
  nodes[to + 2] = passed;
  nodes[to + 3] = Math.max(0, path.k * (y + path.r * (passed - path.current)));
  nodes[to + 4] = path.k * (passed - path.current - path.conductance * y);
  nodes[to + 5] = pieces[at + 10 + stage]!;
  nodes[to + 6] = pieces[at + 13 + stage]!;
  nodes[to + 7] = at;
  space.nodeCount += 1;
}

/** Fills `space.solution` from the nodes and holds of a solved period. Kept whole: one pass over the nodes. */
export function measure(space: Workspace): void {
  const { nodes, path, solution, nodeCount, sums } = space;
  const reference = nodes[3]!;
  integrateHolds(space, reference);
  let v1 = sums[SUM.ripple]!;
  let v2 = sums[SUM.rippleSquare]!;
  let cos1 = sums[SUM.cosine1]!;
  let sin1 = sums[SUM.sine1]!;
  let cos2 = sums[SUM.cosine2]!;
  let sin2 = sums[SUM.sine2]!;
  let cos4 = sums[SUM.cosine4]!;
  let sin4 = sums[SUM.sine4]!;
  // While holding, the capacitor alone feeds I0 + G·v, here written as `base` + G·w.
  const { conductance } = path;
  const base = path.current + conductance * reference;
  let load = base * sums[SUM.angle]! + conductance * v1;
  let loadPower = reference * load + base * v1 + conductance * v2;
  let c2 = base * load + conductance * (base * v1 + conductance * v2);
  let i1 = 0;
  let i2 = 0;
  let input = 0;
  let diodes = 0;
  let peakAt = 0;
  let valleyAt = 0;
  let strongestAt = 0;
  for (let to = 0; to < nodeCount * NODE; to += NODE) {
    const weight = nodes[to + 1]!;
    const i = nodes[to + 2]!;
    const v = nodes[to + 3]!;
    const c = nodes[to + 4]!;
    const s = nodes[to + 5]!;
    const co = nodes[to + 6]!;
    const ripple = (v - reference) * weight;
    const doubleCos = 1 - 2 * s * s;
    const doubleSin = 2 * s * co;
    v1 += ripple;
    v2 += ripple * (v - reference);
    cos1 += ripple * co;
    sin1 += ripple * s;
    cos2 += ripple * doubleCos;
    sin2 += ripple * doubleSin;
    cos4 += ripple * (2 * doubleCos * doubleCos - 1);
    sin4 += ripple * 2 * doubleSin * doubleCos;
    c2 += weight * c * c;
    load += weight * (i - c);
    loadPower += weight * v * (i - c);
    if (i > 0) {
      i1 += weight * i;
      i2 += weight * i * i;
      input += weight * path.emf * s * i;
      diodes += weight * i * (path.emf * s - v - path.source * i);
    }
    if (v > nodes[peakAt + 3]!) peakAt = to;
    if (v < nodes[valleyAt + 3]!) valleyAt = to;
    if (i > nodes[strongestAt + 2]!) strongestAt = to;
  }
  const share = 1 / path.period;
  const meanOfRipple = v1 * share;
  const strongest = refine(space, strongestAt, CURRENT, 1);
  solution[SOLUTION.meanVolts] = reference + meanOfRipple;
  solution[SOLUTION.valleyVolts] = refine(space, valleyAt, NODE_VOLTS, -1);
  solution[SOLUTION.peakVolts] = refine(space, peakAt, NODE_VOLTS, 1);
  solution[SOLUTION.ripplePeakToPeak] = solution[SOLUTION.peakVolts]! - solution[SOLUTION.valleyVolts]!;
  solution[SOLUTION.rippleRms] = Math.sqrt(Math.max(0, v2 * share - meanOfRipple * meanOfRipple));
  solution[SOLUTION.rippleAtMains] = path.onceACycle ? 2 * share * amplitude(cos1, sin1) : 0;
  solution[SOLUTION.rippleAtTwiceMains] = 2 * share * amplitude(cos2, sin2);
  solution[SOLUTION.rippleAtFourTimesMains] = 2 * share * amplitude(cos4, sin4);
  solution[SOLUTION.conductionAngleDegrees] =
    conductionAngle(space, strongestAt, strongest) * (180 / Math.PI);
  solution[SOLUTION.rectifiedMeanCurrent] = i1 * share;
  solution[SOLUTION.rectifiedRmsCurrent] = Math.sqrt(i2 * share);
  solution[SOLUTION.rectifiedPeakCurrent] = strongest;
  solution[SOLUTION.capacitorRmsCurrent] = Math.sqrt(c2 * share);
  solution[SOLUTION.loadMeanCurrent] = load * share;
  solution[SOLUTION.allDiodesDissipation] = diodes * share;
  solution[SOLUTION.seriesDissipation] = path.source * i2 * share;
  solution[SOLUTION.capacitorDissipation] = path.r * c2 * share;
  solution[SOLUTION.loadPower] = loadPower * share;
  solution[SOLUTION.inputPower] = input * share;
  solution[SOLUTION.starved] = space.starved ? 1 : 0;
  shareOut(path, solution);
}

/** Math.hypot guards against overflow that volts can't reach, at twenty times the cost. */
function amplitude(cosine: number, sine: number): number {
  return Math.sqrt(cosine * cosine + sine * sine);
}

/** Two pulses a cycle take turns: each diode, and each half winding, carries one of them. */
function shareOut(path: Path, solution: Float64Array): void {
  const turns = path.onceACycle ? 1 : 2;
  const rms = solution[SOLUTION.rectifiedRmsCurrent]!;
  const perDevice = rms / Math.sqrt(turns);
  solution[SOLUTION.secondaryRmsCurrent] = path.kind === 'centre-tapped' ? perDevice : rms;
  solution[SOLUTION.diodeMeanCurrent] = solution[SOLUTION.rectifiedMeanCurrent]! / turns;
  solution[SOLUTION.diodeRmsCurrent] = perDevice;
  solution[SOLUTION.diodePeakCurrent] = solution[SOLUTION.rectifiedPeakCurrent]!;
  solution[SOLUTION.diodeDissipation] = solution[SOLUTION.allDiodesDissipation]! / (path.diodes * turns);
}

/** Extreme of a column near node `at`: two parabolas through the neighbours, never worse than the node. */
function refine(space: Workspace, at: number, column: number, sign: 1 | -1): number {
  const { nodes, point } = space;
  const source = column === CURRENT ? 2 : 3;
  const last = (space.nodeCount - 1) * NODE;
  let xb = nodes[at]!;
  let fb = sign * nodes[at + source]!;
  if (at === 0 || at === last) return sign * fb;
  let xa = nodes[at - NODE]!;
  let fa = sign * nodes[at - NODE + source]!;
  let xc = nodes[at + NODE]!;
  let fc = sign * nodes[at + NODE + source]!;
  const near = NEAR_EXTREME * (xc - xa);
  for (let round = 0; round < 4; round += 1) {
    const left = (xb - xa) * (fb - fc);
    const right = (xb - xc) * (fb - fa);
    const x = xb - ((xb - xa) * left - (xb - xc) * right) / (2 * (left - right));
    if (!(x > xa && x < xc) || Math.abs(x - xb) < near) break;
    evaluatePiece(space, nodes[x > nodes[at]! ? at + NODE + 7 : at + 7]!, x);
    const f = sign * point[column]!;
    if (f > fb) {
      if (x > xb) [xa, fa] = [xb, fb];
      else [xc, fc] = [xb, fb];
      [xb, fb] = [x, f];
    } else if (x > xb) [xc, fc] = [x, f];
    else [xa, fa] = [x, f];
  }
  return sign * fb;
}

/** Radians with current under the fixed-drop law; with more than 1 % of the peak through junctions. */
function conductionAngle(space: Workspace, strongestAt: number, strongest: number): number {
  if (strongest <= 0) return 0;
  const level = space.path.shockley ? 0.01 * strongest : 0;
  const { nodes } = space;
  const end = (space.nodeCount - 1) * NODE;
  let first = strongestAt;
  while (first > 0 && nodes[first - NODE + 2]! > level) first -= NODE;
  let last = strongestAt;
  while (last < end && nodes[last + NODE + 2]! > level) last += NODE;
  const from = first > 0 ? crossing(space, first, first - NODE, level) : 0;
  const until = last < end ? crossing(space, last, last + NODE, level) : space.path.period;
  return until - from;
}

/** Angle between neighbouring nodes `above` and `below` at which the current crosses the level. */
function crossing(space: Workspace, above: number, below: number, level: number): number {
  const { nodes, path, pieces } = space;
  if (level === 0) return corner(space, nodes[above]!, nodes[below]!);
  const at = nodes[Math.max(above, below) + 7]!;
  const resistance = pieces[at] === CLAMP ? path.clampResistance : path.resistance;
  const volts = resistance * level + path.junction * Math.log1p(level / path.saturation);
  return crossingOfVolts(space, at, volts, nodes[above]!, nodes[below]!);
}

/** Where the volts across the path pass `volts`: false position with the Illinois rule against a stuck end. */
function crossingOfVolts(space: Workspace, at: number, volts: number, above: number, below: number): number {
  let inside = above;
  let outside = below;
  let over = drivingVolts(space, at, inside) - volts;
  let under = drivingVolts(space, at, outside) - volts;
  const enough = NEAR_CROSSING * space.path.junction;
  for (let round = 0; round < 60 && Math.abs(inside - outside) > 1e-9; round += 1) {
    const share = under / (under - over);
    const next = outside + (share > 0 && share < 1 ? share : 0.5) * (inside - outside);
    const excess = drivingVolts(space, at, next) - volts;
    if (Math.abs(excess) < enough) return next;
    if (excess > 0) {
      inside = next;
      over = excess;
      under *= 0.5;
    } else {
      outside = next;
      under = excess;
      over *= 0.5;
    }
  }
  return (inside + outside) / 2;
}

/** Across source, diodes and, unless the node is held at 0 V, the capacitor's resistance. */
function drivingVolts(space: Workspace, at: number, angle: number): number {
  const { path, pieces } = space;
  const emf = path.emf * Math.sin(angle);
  if (pieces[at] === CLAMP) return emf;
  return emf - path.k * (pieceVolts(space, at, angle) - path.r * path.current);
}

/** Switching instant of the fixed-drop law: a piece's end, or the clamped emf passing the drop. */
function corner(space: Workspace, above: number, below: number): number {
  const { path, pieces } = space;
  for (let at = 0; at < space.pieceCount * PIECE; at += PIECE) {
    const end = pieces[at + 2]!;
    if (pieces[at] !== CLAMP && (above - end) * (below - end) <= 0) return end;
  }
  const rises = Math.asin(Math.min(1, path.drop / path.emf));
  return above > below ? rises : Math.PI - rises;
}
