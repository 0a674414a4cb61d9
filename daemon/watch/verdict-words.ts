import type { PointUnit } from '../predict/prediction.js';
import type { Verdict } from './effects.js';
import { valueWords } from './value-words.js';

/** A value and the band that it was judged by. */
export interface Judged {
  readonly verdict: Verdict;
  readonly value: number;
  readonly unit: PointUnit;
  /** Of a temperature, the coldest that it may be. */
  readonly low: number;
  readonly high: number;
  /** That the true value lies in the band; null: not to be told. */
  readonly probability: number | null;
}

/** The verdict as a person reads it; a doubtful one says how near the edge it lies and how probably inside. */
export function verdictWords({ verdict, value, unit, low, high, probability }: Judged): string {
  if (verdict !== 'doubtful') return verdict;
  const edge = Math.abs(value - low) < Math.abs(value - high) ? low : high;
  const isIn = value >= low && value <= high;
  const far = `${valueWords(Math.abs(value - edge), unit)} ${isIn ? 'inside' : 'beyond'} the edge`;
  const share = probability === null ? '' : `, inside with ${percentWords(probability)}`;
  return `doubtful: ${valueWords(value, unit)} lies ${far}${share}`;
}

/** Never 0 or 100 %: a meter can't make sure. */
function percentWords(probability: number): string {
  return `${Math.min(99, Math.max(1, Math.round(100 * probability)))} %`;
}
