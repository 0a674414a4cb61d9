const SPACE = 32;
const QUOTE = 34;
const BACKSLASH = 92;
const WORDS = ['true', 'false', 'null'].map((word) => Buffer.from(word));

/**
 * Where the closing quote of the text at `from` stands (RFC 8259, section 7); -1 when there is none, or an escape or a
 * control character.
 */
export function endOfText(bytes: Uint8Array, from: number): number {
  if (bytes[from] !== QUOTE) return -1;
  for (let at = from + 1; at < bytes.length; at += 1) {
    const byte = bytes[at] as number;
    if (byte === QUOTE) return at;
    if (byte === BACKSLASH || byte < SPACE) return -1;
  }
  return -1;
}

/** Where `true`, `false` or `null` at `from` ends; -1 when none of them is there. */
export function endOfWord(bytes: Uint8Array, from: number): number {
  for (const word of WORDS) {
    let same = 0;
    while (same < word.length && bytes[from + same] === word[same]) same += 1;
    if (same === word.length) return from + same;
  }
  return -1;
}
