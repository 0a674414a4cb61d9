/**
 * Program messages as IEEE 488.2 and SCPI-1999 (volume 1, chapter 6) write them: units with `;` between, headers
 * in a short or a long form and any case, parameters with commas between.
 */

/** One unit of a message. */
export interface ProgramUnit {
  /** Full path in upper case without the leading colon, `VOLT:DC` style; a common command keeps its `*`. */
  readonly header: string;
  readonly isQuery: boolean;
  readonly parameters: readonly string[];
}

/** A header in SCPI notation: capitals are the short form, brackets may be left out: `MEASure:VOLTage[:DC]`. */
export type HeaderPattern = string;

/**
 * Takes a message without its terminator apart. A header after `;` goes on from the path of the one before it,
 * unless it starts with `:` or `*`.
 */
export function programUnits(message: string): ProgramUnit[] {
  const units: ProgramUnit[] = [];
  let path = '';
  for (const text of splitOutsideQuotes(message, ';')) {
    const unit = text.trim();
    if (unit === '') continue;
    const end = unit.search(/\s/);
    const written = (end < 0 ? unit : unit.slice(0, end)).toUpperCase();
    const rest = end < 0 ? '' : unit.slice(end).trim();
    const isQuery = written.endsWith('?');
    const bare = isQuery ? written.slice(0, -1) : written;
    const isCommon = bare.startsWith('*');
    const header = isCommon ? bare : bare.startsWith(':') ? bare.slice(1) : path + bare;
    if (!isCommon) path = header.slice(0, header.lastIndexOf(':') + 1);
    const parameters = rest === '' ? [] : splitOutsideQuotes(rest, ',').map((each) => each.trim());
    units.push({ header, isQuery, parameters });
  }
  return units;
}

function splitOutsideQuotes(text: string, separator: string): string[] {
  const pieces: string[] = [];
  let quote = '';
  let piece = '';
  for (const character of text) {
    if (quote !== '') {
      if (character === quote) quote = '';
    } else if (character === '"' || character === "'") {
      quote = character;
    } else if (character === separator) {
      pieces.push(piece);
      piece = '';
      continue;
    }
    piece += character;
  }
  return [...pieces, piece];
}

interface Keyword {
  readonly short: string;
  readonly long: string;
  readonly mayBeLeftOut: boolean;
}

/** A test for headers (upper case, no leading colon) that this pattern allows. */
export function headerMatcher(pattern: HeaderPattern): (header: string) => boolean {
  const keywords = [...pattern.matchAll(/(\[:?)?([*A-Za-z]+)/g)].map(([, bracket, word = '']): Keyword => ({
    short: word.replace(/(?<![a-z])[a-z]+$/, ''),
    long: word.toUpperCase(),
    mayBeLeftOut: bracket !== undefined,
  }));
  return (header) => matches(keywords, header.split(':'));
}

function matches(keywords: readonly Keyword[], words: readonly string[]): boolean {
  const [keyword, ...others] = keywords;
  if (!keyword) return words.length === 0;
  const [word, ...rest] = words;
  if ((word === keyword.short || word === keyword.long) && matches(others, rest)) return true;
  return keyword.mayBeLeftOut && matches(others, words);
}
