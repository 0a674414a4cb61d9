/** Two sums that grow while readings stay above or below what was expected (E. S. Page, Biometrika 41 (1954) 100). */
export interface Drift {
  readonly up: number;
  readonly down: number;
}

/** What made a temperature leave its curve. */
export type Change = 'heats-more' | 'heats-less' | 'switched-off' | 'sensor-lifted';

export const NO_DRIFT: Drift = { up: 0, down: 0 };

/** How far one value counts, deviations. */
const MOST = 6;

export function drifted({ up, down }: Drift, deviations: number, allowed: number): Drift {
  const counted = Math.max(-MOST, Math.min(MOST, deviations));
  return { up: Math.max(0, up + counted - allowed), down: Math.max(0, down - counted - allowed) };
}

export function isBeyond({ up, down }: Drift, edge: number): boolean {
  return up > edge || down > edge;
}

/** A curve that was left, until it is known why. */
export interface Departure {
  /** Where the curve was left. */
  readonly fromMs: number;
  readonly fromC: number;
  /** How it would have gone on, K/s. */
  readonly slopeKPerS: number;
  /** How fast the heat warmed the part when cold, K/s, and how much the fast part of the rise was, K. */
  readonly heatKPerS: number;
  readonly fastK: number;
  readonly timeConstantS: number;
  readonly airC: number;
}

/** Long enough to tell a part from a bead, short enough to be told within half a minute. */
const ENOUGH_MS = 14_000;
/** Readings that differ by less from where they would have gone tell nothing. */
const LEAST_K = 0.8;
const NEARLY_ALL = 0.75;
/** Of what the part itself could have lost of its rise over air. */
const MORE_THAN_THE_PART = 1.7;

/**
 * Why the curve was left, once that can be told: null until then. A part without heat falls by its fast part and as
 * its time constant lets it (lumped heat capacity, as any text on heat transfer has it); a bead in air falls further.
 */
export function changeOf(departure: Departure, atMs: number, celsius: number): Change | 'nothing' | null {
  const { fromMs, fromC, slopeKPerS, heatKPerS, fastK, timeConstantS, airC } = departure;
  const passedMs = atMs - fromMs;
  const lost = fromC + (slopeKPerS * passedMs) / 1000 - celsius;
  if (lost < -LEAST_K) return 'heats-more';
  if (passedMs < ENOUGH_MS) return null;
  if (lost < LEAST_K) return 'nothing';
  const passedS = passedMs / 1000;
  const fast = Math.max(0, fastK);
  const possible = fast + Math.max(0, fromC - airC) * (1 - Math.exp(-passedS / timeConstantS));
  if (lost > MORE_THAN_THE_PART * possible + LEAST_K) return 'sensor-lifted';
  return lost > NEARLY_ALL * (fast + heatKPerS * passedS) ? 'switched-off' : 'heats-less';
}
