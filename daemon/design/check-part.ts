import { didYouMean } from './closest.js';
import { shown, type Finding } from './file-problems.js';

/** A part name that isn't in the library. */
export function checkPart(
  path: readonly string[],
  name: string,
  library: readonly string[],
  kind: string,
): Finding[] {
  if (library.includes(name)) return [];
  const guess = didYouMean(name, library);
  const allowed = library.join(', ');
  const sentence = `found ${shown(name)}, ${kind} that isn't in the part library; ${guess === '' ? `it has ${allowed}` : guess.slice(2)}`;
  return [{ path, found: shown(name), allowed, sentence }];
}
