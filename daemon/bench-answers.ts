import type { Reader } from './design/new-questions.js';
import { measurandsFor } from './design/test-points.js';
import { placeOf, type Place } from '../drivers/listen/place.js';

/** The answer for what isn't there. */
export const NOWHERE = 'none';

/** A meter on a cable has one probe for each quantity, which can be moved later; one that is read by hand goes round. */
export type PointsAtOnce = 'one-of-a-kind' | 'any';

/** One of the fitting test points, by its name or its number among all, or none. */
export function onePoint(
  typed: string,
  points: readonly string[],
  fitting: readonly string[],
): ReturnType<Reader<string>> {
  if (typed.toLowerCase() === NOWHERE) return { value: NOWHERE };
  const point = /^\d+$/.test(typed) ? points[Number(typed) - 1] : typed;
  if (point !== undefined && fitting.includes(point)) return { value: point };
  return { allowed: `${NOWHERE}, or one of ${choices(points, fitting)},` };
}

export function severalPoints(
  points: readonly string[],
  fitting: readonly string[],
  most: PointsAtOnce,
): Reader<readonly string[]> {
  return (typed) => {
    const found = [...new Set(typed.split(/[\s,]+/))].map((word) => onePoint(word, points, fitting));
    const chosen = found.flatMap((each) => ('value' in each && each.value !== NOWHERE ? [each.value] : []));
    if (chosen.length < found.length) return { allowed: `one or more of ${choices(points, fitting)}` };
    const kinds = new Set(chosen.map((point) => measurandsFor(point)[0]));
    if (most === 'any' || kinds.size === chosen.length) return { value: chosen };
    return {
      allowed: 'one test point for each quantity, since the probe is in one place (it can be moved later),',
    };
  };
}

function choices(points: readonly string[], fitting: readonly string[]): string {
  return fitting.map((point) => `${points.indexOf(point) + 1} ${point}`).join(', ');
}

export function yesOrNo(typed: string): ReturnType<Reader<boolean>> {
  if (/^y(es)?$/i.test(typed)) return { value: true };
  return /^no?$/i.test(typed) ? { value: false } : { allowed: 'yes or no' };
}

export function placeOrNone(typed: string): ReturnType<Reader<Place | typeof NOWHERE>> {
  return { value: typed === NOWHERE ? NOWHERE : placeOf(typed) };
}
