import type { Measurand } from '../driver.js';
import { measurandOfUnit, unitPower, unitWordAt } from '../lines/unit-words.js';

/** A line as the bench file describes it: plain words around numbers, `T1: {lamps.case} C`. */
export type LinePiece =
  | { readonly kind: 'words'; readonly text: string }
  | { readonly kind: 'number'; readonly name: string; readonly unit: LineUnit };

/** The unit word after a number, or in its braces where none is printed: what it stands for, and the power of ten from it to the measurand's unit. */
export interface LineUnit {
  /** Null where no unit follows. */
  readonly measures: Measurand | null;
  readonly power: number;
}

/** Takes a pattern apart; a brace without its partner is a plain character. */
export function linePieces(pattern: string): LinePiece[] {
  const pieces: LinePiece[] = [];
  let rest = pattern;
  for (let open = rest.indexOf('{'); open >= 0; open = rest.indexOf('{')) {
    const close = rest.indexOf('}', open);
    if (close < 0) break;
    if (open > 0) pieces.push({ kind: 'words', text: rest.slice(0, open) });
    const [name = '', ...unit] = rest
      .slice(open + 1, close)
      .trim()
      .split(/\s+/);
    rest = rest.slice(close + 1);
    pieces.push({ kind: 'number', name, unit: unitAhead(unit.length > 0 ? unit.join(' ') : rest) });
  }
  if (rest !== '') pieces.push({ kind: 'words', text: rest });
  return pieces;
}

function unitAhead(text: string): LineUnit {
  const ahead = text.trimStart();
  const word = unitWordAt(ahead, 0);
  const plain = measurandOfUnit(word);
  if (plain === undefined) return { measures: null, power: 0 };
  const isAlternating = /^\s*AC\b/i.test(ahead.slice(word.length));
  return { measures: isAlternating ? alternating(plain) : plain, power: unitPower(plain, word) ?? 0 };
}

function alternating(measures: Measurand): Measurand {
  if (measures === 'dc-volts') return 'ac-volts';
  return measures === 'dc-amps' ? 'ac-amps' : measures;
}
