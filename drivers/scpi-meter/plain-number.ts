const PLUS = 43;
const MINUS = 45;
const POINT = 46;
const ZERO = 48;
const NINE = 57;
const UPPER_E = 69;
const LOWER_E = 101;
/** The longest number that an instrument sends: 22 characters in NR3 form (IEEE 488.2). */
const LONGEST_NUMBER = 22;

/**
 * Where the number that the line begins with ends, as most meters write it: a sign perhaps, digits with one point among
 * them, an exponent of one to three digits with its sign. -1 for anything else, which may still be a number.
 */
export function plainNumberEnd(line: string): number {
  let at = isSign(line.charCodeAt(0)) ? 1 : 0;
  const start = at;
  at = endOfDigits(line, at);
  if (at === start) return -1;
  if (line.charCodeAt(at) === POINT) at = endOfDigits(line, at + 1);
  const letter = line.charCodeAt(at);
  if ((letter === UPPER_E || letter === LOWER_E) && isSign(line.charCodeAt(at + 1))) {
    const first = at + 2;
    at = endOfDigits(line, first);
    if (at === first || at > first + 3) return -1;
  }
  return at <= LONGEST_NUMBER ? at : -1;
}

function endOfDigits(line: string, from: number): number {
  let at = from;
  for (let code = line.charCodeAt(at); code >= ZERO && code <= NINE; code = line.charCodeAt(at)) at += 1;
  return at;
}

function isSign(code: number): boolean {
  return code === PLUS || code === MINUS;
}
