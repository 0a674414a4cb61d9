import { encode } from 'uqr';

/** Light on every side, in modules (ISO/IEC 18004, section 6.3.8). */
const QUIET_MODULES = 4;
/** Black on white whatever the terminal's own colours are (ECMA-48, section 8.3.117; bright white is common practice). */
const BLACK_ON_WHITE = '\x1b[30;107m';
const AS_BEFORE = '\x1b[0m';
/** By whether the upper and the lower half are dark. */
const HALVES = [' ', '▄', '▀', '█'] as const;

/** A QR code (ISO/IEC 18004) of the text as lines for a terminal, two rows of modules a line. */
export function qrLines(text: string): string[] {
  const { data, size } = encode(text, { ecc: 'M', border: QUIET_MODULES });
  const isDark = (row: number, column: number): boolean => data[row]?.[column] ?? false;
  return Array.from({ length: Math.ceil(size / 2) }, (_, line) => {
    const signs = Array.from(
      { length: size },
      (_, column) => HALVES[(isDark(2 * line, column) ? 2 : 0) + (isDark(2 * line + 1, column) ? 1 : 0)],
    );
    return `${BLACK_ON_WHITE}${signs.join('')}${AS_BEFORE}`;
  });
}
