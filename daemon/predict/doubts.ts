/** Rated secondary volts of a transformer, from part to part (from memory). */
export const WINDING_DOUBT = 0.03;
/** What a rail draws in one of its states (common practice). */
export const LOAD_DOUBT = 0.1;
/** Catalogue K/W of a heatsink: it holds at one rise, and natural convection weakens with the fourth root of a smaller one. */
export const HEATSINK_DOUBT = { low: 0.8, high: 1.25 };

/** ESR of a general-purpose electrolytic: loss factor about 0.15 at 100 Hz (from memory), ohm. */
export function usualEsr(farads: number): number {
  return 0.15 / (2 * Math.PI * 100 * farads);
}
