import { isUtf8 } from 'node:buffer';
import { utf8FromLatin1Signs } from '../lines/latin1-signs.js';

const DECODER = new TextDecoder();
const LINE_END = /\r\n|\n|\r/;
const LONGEST_LINE = 512;
/** Of a text's characters, this share at least can be shown: a wrong baud rate leaves a third at best. */
const READS_WELL = 0.97;
const NOT_SHOWN = /[^\p{L}\p{N}\p{P}\p{S}\t ]|\ufffd/gu;

/**
 * How well bytes read as lines of text: the share of characters that can be shown, 0 to 1; 0 without a line end or
 * with a line longer than any board prints. What came before the first line end doesn't count.
 */
export function readability(bytes: Uint8Array): number {
  const [, ...lines] = textOf(bytes).split(LINE_END);
  if (lines.length === 0 || lines.some((line) => line.length > LONGEST_LINE)) return 0;
  const text = lines.join('');
  if (text.length === 0) return lines.length > 1 ? 0 : onlyLine(bytes);
  return 1 - (text.match(NOT_SHOWN)?.length ?? 0) / text.length;
}

export function readsWell(bytes: Uint8Array): boolean {
  return readability(bytes) >= READS_WELL;
}

/** As text-lines takes it: UTF-8, or ASCII with signs of units in ISO/IEC 8859-1. */
function textOf(bytes: Uint8Array): string {
  return DECODER.decode(isUtf8(bytes) ? bytes : (utf8FromLatin1Signs(bytes) ?? bytes));
}

/** Where one line is all that came. */
function onlyLine(bytes: Uint8Array): number {
  const text = textOf(bytes).trim();
  return text.length === 0 ? 0 : 1 - (text.match(NOT_SHOWN)?.length ?? 0) / text.length;
}

/**
 * The whole lines in what was heard, blank ones left out, and `first`, which may lack its beginning. It belongs to the
 * lines when it is the only one.
 */
export function wholeLines(bytes: Uint8Array): { readonly first: string; readonly lines: readonly string[] } {
  const pieces = textOf(bytes).split(LINE_END);
  const [first = '', ...rest] = pieces.slice(0, -1);
  const lines = rest.filter((line) => line.trim() !== '');
  return lines.length === 0 && first.trim() !== '' ? { first: '', lines: [first] } : { first, lines };
}
