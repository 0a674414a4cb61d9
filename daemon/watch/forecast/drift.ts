/** Two sums that grow while readings stay above or below what was expected (E. S. Page, Biometrika 41 (1954) 100). */
export interface Drift {
  readonly up: number;
  readonly down: number;
}

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
