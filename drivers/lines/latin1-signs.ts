/** Degree sign, micro sign, and the masculine ordinal that stands in for a degree (ISO/IEC 8859-1). */
const SIGNS: ReadonlySet<number> = new Set([0xb0, 0xb5, 0xba]);
const FIRST_HIGH_BYTE = 128;
/** A digit, a point or a comma. What stands before one is no sign but a spoilt digit: 0xB0 is `0` with a wrong parity bit. */
const PART_OF_NUMBER = /[\d.,]/;

/**
 * The same text in UTF-8 when all that keeps it from being UTF-8 are the signs of units as ISO/IEC 8859-1 writes them,
 * which is how many boards and meters print `45.1 °C`. Null for any other byte beyond ASCII.
 */
export function utf8FromLatin1Signs(text: Uint8Array): Uint8Array | null {
  for (let at = 0; at < text.length; at += 1) {
    const byte = text[at] as number;
    if (byte < FIRST_HIGH_BYTE) continue;
    const next = text[at + 1];
    if (!SIGNS.has(byte) || (next !== undefined && PART_OF_NUMBER.test(String.fromCharCode(next))))
      return null;
  }
  return Buffer.from(Buffer.from(text).toString('latin1'));
}
