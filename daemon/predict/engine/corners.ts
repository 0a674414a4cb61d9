import type { Model } from './model.js';

/** A result with every number that matters to it at its worse end at once. */
export interface Corner {
  readonly value: number;
  /** Which end each of them is at, the most telling first. */
  readonly ends: readonly CornerEnd[];
}

export interface CornerEnd {
  /** The uncertain number, `lamps.r2`. */
  readonly name: string;
  readonly end: 'low' | 'high';
}

/** What one number's end does to every result. */
interface Shift {
  readonly place: number;
  readonly end: 'low' | 'high';
  readonly results: Float64Array;
}

/**
 * The worst corners of every result: each number alone is moved to its 95 % ends, and those ends that worsen a result are then
 * taken together (worst-case analysis by sensitivities, common practice). It is the worst of all corners as long as
 * what one number does doesn't turn around with another.
 */
export function worstCorners(model: Model): Record<string, { readonly low: Corner; readonly high: Corner }> {
  const { parameters, outputs } = model;
  const typical = Float64Array.from(parameters, (parameter) => parameter.typical);
  const nominal = resultsOf(model, typical);
  const shifts = parameters.flatMap((parameter, place) => {
    return (['low', 'high'] as const)
      .filter((end) => parameter[end] !== parameter.typical)
      .map((end) => ({ place, end, results: resultsOf(model, moved(model, typical, [{ place, end }])) }));
  });
  return Object.fromEntries(
    outputs.map((id, output) => [
      id,
      {
        low: cornerOf(model, typical, nominal, shifts, output, -1),
        high: cornerOf(model, typical, nominal, shifts, output, 1),
      },
    ]),
  );
}

function cornerOf(
  model: Model,
  typical: Float64Array,
  nominal: Float64Array,
  shifts: readonly Shift[],
  output: number,
  side: 1 | -1,
): Corner {
  const gain = ({ results }: Shift): number => side * (results[output]! - nominal[output]!);
  const best = new Map<number, Shift>();
  for (const shift of shifts) {
    const rival = best.get(shift.place);
    if (gain(shift) > (rival === undefined ? 0 : gain(rival))) best.set(shift.place, shift);
  }
  const ends = [...best.values()].sort((a, b) => gain(b) - gain(a));
  const together = resultsOf(model, moved(model, typical, ends))[output]!;
  const single = ends[0]?.results[output] ?? nominal[output]!;
  return {
    value: side * Math.max(side * together, side * single, side * nominal[output]!),
    ends: ends.map(({ place, end }) => ({ name: model.parameters[place]!.name, end })),
  };
}

function moved(
  { parameters }: Model,
  typical: Float64Array,
  ends: readonly { readonly place: number; readonly end: 'low' | 'high' }[],
): Float64Array {
  const vector = typical.slice();
  for (const { place, end } of ends) vector[place] = parameters[place]![end];
  return vector;
}

function resultsOf(model: Model, vector: Float64Array): Float64Array {
  const results = new Float64Array(model.outputs.length);
  model.evaluate(vector, results);
  return results;
}
