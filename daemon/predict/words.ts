import type { PointUnit } from './prediction.js';

/** Columns of a terminal page. */
const WIDTH = 100;

/** How units are written for a person. */
export const UNIT_WORDS: Readonly<Record<PointUnit, string>> = {
  V: 'V',
  Vrms: 'V RMS',
  Vpp: 'V p-p',
  A: 'A',
  Arms: 'A RMS',
  ohm: 'ohm',
  degC: '°C',
  Hz: 'Hz',
  W: 'W',
};

/** As many digits as mean something on a bench. */
export function digits(value: number, unit: PointUnit): string {
  if (unit === 'degC') return value.toFixed(0);
  if (Math.abs(value) >= 0.1) return value.toFixed(2);
  return Math.abs(value) >= 0.001 ? value.toFixed(4) : value.toFixed(5);
}

/** Breaks a sentence at blanks; every line begins with the indent, the later ones two blanks further in. */
export function wrapped(sentence: string, indent: string): string[] {
  const lines: string[] = [];
  let line = indent;
  for (const word of sentence.split(' ')) {
    if (line.trim() !== '' && line.length + 1 + word.length > WIDTH) {
      lines.push(line);
      line = `${indent}  `;
    }
    line = line.trim() === '' ? line + word : `${line} ${word}`;
  }
  return [...lines, line].map(cutToWidth);
}

/** A line that is too long ends in dots. */
export function cutToWidth(line: string): string {
  return line.length > WIDTH ? `${line.slice(0, WIDTH - 3)}...` : line;
}
