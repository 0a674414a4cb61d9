/** The current of the winding: what all rails draw together. */
export const WINDING = 'transformer.amps';
/** Where the charges of the rectifier show. */
const RIPPLES: readonly string[] = ['reservoir.ripple', 'negative-reservoir.ripple'];

/** The ripple of a reservoir goes with what is drawn; more than this beyond it, something else has grown it. */
const MORE_RIPPLE = 1.25;

/** A value above its band. */
interface TooMuch {
  readonly value: number;
  readonly high: number;
}

/** Whether the test point is the ripple of a reservoir. */
export function isReservoirRipple(point: string): boolean {
  return RIPPLES.includes(point);
}

/**
 * Whether too much ripple comes of too much being drawn. A reservoir loses I·t of charge between two pulses, so that its
 * ripple grows as the current does; with half of the pulses or of the capacitance gone it doubles and more, and the
 * winding's RMS current grows by a third at most (from memory).
 */
export function isDrawn(amps: TooMuch, ripple: TooMuch): boolean {
  return ripple.value / ripple.high <= (MORE_RIPPLE * amps.value) / amps.high;
}
