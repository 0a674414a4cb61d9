/**
 * Heat that painted sheet steel passes from the air inside a closed box to the air outside, W/(m²·K). Common practice
 * among enclosure makers, from memory; unpainted aluminium passes less, a vented box much more.
 */
export const CLOSED_BOX_FILM = 5.5;

/** How much warmer it is inside a closed box, K: total heat over area (m², of the faces free to the air) and film. */
export function enclosureRise(watts: number, freeArea: number, film: number = CLOSED_BOX_FILM): number {
  if (!(freeArea > 0 && film > 0)) {
    throw new RangeError(
      `a box needs free area and a film above 0; it got ${freeArea} m² and ${film} W/(m²·K)`,
    );
  }
  return watts / (freeArea * film);
}
