/**
 * What a terminal or a page obeys instead of showing it: control characters (ECMA-48) other than tabs and line ends, and
 * the signs that turn the direction of what follows (UAX #9, 2.1 to 2.3).
 */
const OBEYED = /\r(?!\n)|[\0-\u0008\u000b\u000c\u000e-\u001f\u007f-\u009f\u202a-\u202e\u2066-\u2069]/g;

const DOT = '\u00b7';

/** The first such sign as a person looks it up, `U+001B`; null when there is none. */
export function obeyedSign(text: string): string | null {
  const at = text.search(OBEYED);
  return at < 0 ? null : `U+${text.charCodeAt(at).toString(16).toUpperCase().padStart(4, '0')}`;
}

/** The text with a dot in place of each. */
export function withoutObeyed(text: string): string {
  return text.replace(OBEYED, DOT);
}

/** Those that JSON may hold as they are (RFC 8259, 7). */
const BARE = /[\u007f-\u009f\u202a-\u202e\u2066-\u2069]/g;
/** How JSON may write them, and any other sign behind a backslash. */
const ESCAPED = /\\(?:[bfr]|u00[0189]|u20[26])/i;
const ESCAPES = /\\r\\n|\\u[0-9a-f]{4}|\\./gi;

/** JSON from outside, with a dot in place of each such sign in its keys and texts. Throws as `JSON.parse` does. */
export function plainJson(text: string): unknown {
  const plain = text.replace(BARE, DOT);
  if (!ESCAPED.test(plain)) return JSON.parse(plain);
  return JSON.parse(plain.replace(ESCAPES, (written) => (isObeyed(written) ? DOT : written)));
}

function isObeyed(written: string): boolean {
  return obeyedSign(JSON.parse(`"${written}"`) as string) !== null;
}
