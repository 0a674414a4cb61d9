const MINUS = 45;
const POINT = 46;
const ZERO = 48;
const NINE = 57;

/** Whether a number that was read is one of JSON's: no plus, no noughts in front, digits on both sides of a point. */
export function isJsonNumber(line: Uint8Array, from: number, end: number): boolean {
  const start = line[from] === MINUS ? from + 1 : from;
  if (!isDigit(line, start, end)) return false;
  if (line[start] === ZERO && isDigit(line, start + 1, end)) return false;
  for (let at = start; at < end; at += 1) {
    if (line[at] === POINT) return isDigit(line, at + 1, end);
  }
  return true;
}

function isDigit(line: Uint8Array, at: number, end: number): boolean {
  return at < end && (line[at] as number) >= ZERO && (line[at] as number) <= NINE;
}
