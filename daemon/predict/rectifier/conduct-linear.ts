import type { Workspace } from './pieces.js';
import { LINEAR, addPiece } from './pieces.js';

const LOOKS_FOR_ZERO = 32;

/**
 * One conduction under the fixed-drop law, in closed form, from `space.angle` to turn-off or to the
 * instant when the node would fall below 0 V. Returns true in the second case.
 *
 * y' = -rate·y + a·sin(angle) + b is linear, so y = b/rate + a(rate·sin - cos)/(1 + rate²) + K·exp(-rate·span)
 * (the classical capacitor-input solution, O. H. Schade, Proc. IRE 31, 1943, solved there by graphs).
 */
export function conductLinear(space: Workspace): boolean {
  const { path, pieces } = space;
  const { kappa, k, r, conductance, current, resistance } = path;
  const from = space.angle;
  const admittance = k / resistance + conductance;
  const rate = kappa * admittance;
  const sinusoid = (kappa * path.emf) / resistance / (1 + rate * rate);
  const settled = ((k * r * current - path.drop) / resistance - current) / admittance;
  const atStart = sinusoid * (rate * Math.sin(from) - Math.cos(from));
  const at = addPiece(space, LINEAR, Math.PI);
  pieces[at + 4] = rate;
  pieces[at + 5] = space.start + space.change - settled - atStart;
  pieces[at + 6] = sinusoid;
  pieces[at + 7] = atStart;
  const off = turnOff(space, at);
  const zero = current > 0 ? firstZero(space, at, from, off) : off;
  pieces[at + 2] = zero;
  space.change = volts(space, at, zero) - space.start;
  space.logSensitivity -= rate * (zero - from);
  space.angle = zero;
  return zero < off;
}

function volts(space: Workspace, at: number, angle: number): number {
  const { pieces } = space;
  const rate = pieces[at + 4]!;
  const sinusoid = pieces[at + 6]! * (rate * Math.sin(angle) - Math.cos(angle)) - pieces[at + 7]!;
  return (
    space.start + pieces[at + 3]! + sinusoid + pieces[at + 5]! * Math.expm1(-rate * (angle - pieces[at + 1]!))
  );
}

/** Falling zero of the current: Newton's method kept between a positive and a negative side. */
function turnOff(space: Workspace, at: number): number {
  const { path } = space;
  let low = space.angle;
  let high = Math.PI;
  let angle = Math.max(Math.PI - low, (low + high) / 2);
  for (let round = 0; round < 100; round += 1) {
    const y = volts(space, at, angle);
    const sine = Math.sin(angle);
    const over = path.emf * sine - path.k * (y - path.r * path.current) - path.drop;
    if (over > 0) low = angle;
    else high = angle;
    const rise = path.kappa * (over / path.resistance - path.current - path.conductance * y);
    const slope = path.emf * Math.cos(angle) - path.k * rise;
    let next = slope < 0 ? angle - over / slope : Infinity;
    if (!(next > low && next < high)) next = (low + high) / 2;
    if (Math.abs(next - angle) < 1e-12 || high - low < 1e-14) return next;
    angle = next;
  }
  return angle;
}

/** First angle at which the node reaches 0 V before `off`; `off` when it doesn't. */
function firstZero(space: Workspace, at: number, from: number, off: number): number {
  if (isFarFromZero(space, at, from, off)) return off;
  let before = from;
  for (let step = 1; step <= LOOKS_FOR_ZERO; step += 1) {
    const angle = from + ((off - from) * step) / LOOKS_FOR_ZERO;
    if (nodeVolts(space, at, angle) < 0) return bisectZero(space, at, before, angle);
    before = angle;
  }
  return off;
}

/** The node can't fall by more than the load takes in the whole conduction. */
function isFarFromZero(space: Workspace, at: number, from: number, off: number): boolean {
  const { path } = space;
  const most = path.kappa * (path.current + path.conductance * path.emf) * (off - from);
  return Math.min(nodeVolts(space, at, from), nodeVolts(space, at, off)) > path.k * most;
}

function bisectZero(space: Workspace, at: number, positive: number, negative: number): number {
  let low = positive;
  let high = negative;
  for (let round = 0; round < 60 && high - low > 1e-13; round += 1) {
    const middle = (low + high) / 2;
    if (nodeVolts(space, at, middle) < 0) high = middle;
    else low = middle;
  }
  return high;
}

function nodeVolts(space: Workspace, at: number, angle: number): number {
  const { path } = space;
  const y = volts(space, at, angle);
  const u = path.emf * Math.sin(angle) - path.k * (y - path.r * path.current);
  return path.k * (y + path.r * (Math.max(0, u - path.drop) / path.resistance - path.current));
}
