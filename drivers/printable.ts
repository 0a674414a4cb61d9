const MOST_CHARACTERS = 200;
const UNPRINTABLE = /[^\p{L}\p{N}\p{P}\p{S} ]/gu;

/** Text from outside made fit to show: trimmed, unprintable characters written as `\x1b`, at most 200 characters. */
export function printable(text: string, most: number = MOST_CHARACTERS): string {
  const shown = text
    .slice(0, 4 * most)
    .trim()
    .replace(UNPRINTABLE, escaped);
  return shown.length <= most ? shown : `${shown.slice(0, most - 1)}…`;
}

function escaped(character: string): string {
  return `\\x${(character.codePointAt(0) ?? 0).toString(16).padStart(2, '0')}`;
}
