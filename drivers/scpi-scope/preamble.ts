import type { PreambleForm } from './dialect.js';

/** What the samples of one capture are worth and when they were taken; see Capture. */
export interface Scaling {
  readonly points: number;
  readonly scale: number;
  readonly offset: number;
  readonly startSeconds: number;
  readonly stepSeconds: number;
}

/**
 * Reads a preamble of numbers with commas between. Time of sample i is (i - xreference) x xincrement + xorigin.
 * Returns words for what is wrong with it: a field too few, a format or type that isn't the one asked for.
 */
export function readPreamble(text: string, form: PreambleForm, bits: number): Scaling | string {
  const written = text.trim().split(',');
  if (written.length !== form.fields.length) {
    return `a preamble with ${written.length} fields instead of ${form.fields.length}`;
  }
  const numbers = new Map<string, number>();
  for (const [index, name] of form.fields.entries()) {
    const number = numberIn(written[index] ?? '');
    if (number === null) return `the field ${name} is no number`;
    numbers.set(name, number);
  }
  return refusal(numbers, form, bits) ?? scalingOf(numbers, form);
}

function refusal(numbers: ReadonlyMap<string, number>, form: PreambleForm, bits: number): string | null {
  const format = numbers.get('format');
  const type = numbers.get('type');
  const points = numbers.get('points') ?? NaN;
  if (format !== undefined && form.formats[String(format)] !== bits)
    return `format ${format} instead of ${bits} bits`;
  if (type !== undefined && !form.types.includes(type)) {
    return `acquisition type ${type}, whose samples are no plain values; set the scope to normal or average`;
  }
  if (!Number.isInteger(points) || points < 1) return `${points} points`;
  if (!((numbers.get('xincrement') ?? 0) > 0)) return 'no time between two samples';
  if ((numbers.get('yincrement') ?? 0) === 0) return 'samples that are worth nothing';
  return null;
}

function scalingOf(numbers: ReadonlyMap<string, number>, { formula }: PreambleForm): Scaling {
  const at = (name: string): number => numbers.get(name) ?? 0;
  const scale = at('yincrement');
  const offset =
    formula === 'reference-scale-origin'
      ? at('yorigin') - at('yreference') * scale
      : -(at('yorigin') + at('yreference')) * scale;
  const stepSeconds = at('xincrement');
  const startSeconds = at('xorigin') - at('xreference') * stepSeconds;
  return { points: at('points'), scale, offset, startSeconds, stepSeconds };
}

/** NR1, NR2 or NR3 of IEEE 488.2; null for anything else, and for SCPI's infinity and not-a-number. */
export function numberIn(text: string): number | null {
  if (!/^\s*[+-]?(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][+-]?\d{1,3})?\s*$/.test(text)) return null;
  const number = Number(text);
  return Math.abs(number) < 9.9e37 ? number : null;
}
