/** Longest word compared; longer ones are nobody's typing slip. */
const LONGEST = 60;

/**
 * How many letters must be added, removed, changed or swapped with their neighbour to get from one word to the
 * other (optimal string alignment distance). Upper and lower case count as the same.
 */
export function editDistance(from: string, to: string): number {
  const a = from.toLowerCase();
  const b = to.toLowerCase();
  let before: number[] = [];
  let above = Array.from({ length: b.length + 1 }, (_, column) => column);
  for (let row = 1; row <= a.length; row += 1) {
    const current = [row];
    for (let column = 1; column <= b.length; column += 1) {
      const change = a[row - 1] === b[column - 1] ? 0 : 1;
      let least = Math.min(
        (above[column] ?? 0) + 1,
        (current[column - 1] ?? 0) + 1,
        (above[column - 1] ?? 0) + change,
      );
      const swapped = a[row - 1] === b[column - 2] && a[row - 2] === b[column - 1];
      if (row > 1 && column > 1 && swapped) least = Math.min(least, (before[column - 2] ?? 0) + 1);
      current.push(least);
    }
    before = above;
    above = current;
  }
  return above[b.length] ?? 0;
}

/**
 * The words that someone who typed `typed` may have meant, closest first: a third of the letters may be wrong, or
 * one word may hold the other whole (LM7805 for 7805).
 */
export function closest(typed: string, words: readonly string[], most = 1): string[] {
  if (typed === '' || typed.length > LONGEST) return [];
  return words
    .map((word) => ({ word, distance: editDistance(typed, word), held: holds(typed, word) }))
    .filter(({ word, distance, held }) => held || distance <= Math.max(1, Math.floor(word.length / 3)))
    .sort((a, b) => a.distance - b.distance)
    .slice(0, most)
    .map(({ word }) => word);
}

function holds(typed: string, word: string): boolean {
  const [a, b] = [typed.toLowerCase(), word.toLowerCase()];
  return (b.length >= 4 && a.includes(b)) || (a.length >= 4 && b.includes(a));
}

/** `; did you mean r2?`, or nothing. */
export function didYouMean(typed: string, words: readonly string[]): string {
  const [word] = closest(typed, words);
  return word === undefined ? '' : `; did you mean ${word}?`;
}
