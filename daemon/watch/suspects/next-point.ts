import type { LoadState } from '../../design/design.js';
import type { PointUnit } from '../../predict/prediction.js';
import { conditionals } from './conditional.js';
import type { Normal } from './conditional.js';
import type { MeasurablePoint, SuspectModel } from './model.js';
import { otherDensity } from './posterior.js';
import type { Posterior } from './posterior.js';
import type { Mark } from './settled.js';
import { modelDoubt, scaledAmount, unscaled } from './scale.js';

/** Where to probe next. */
export interface NextPoint {
  readonly point: string;
  /** Expected drop of the entropy of the suspects. */
  readonly gainBits: number;
  readonly unit: PointUnit;
  /** What the leading suspects would most probably read there, in the point's unit. */
  readonly splits: readonly Split[];
  /** What on the bench measures it; null: nothing does. Left out where the bench isn't known. */
  readonly way?: Way | null;
  /** The load under which it tells something, where none does under the one that is on. */
  readonly load?: LoadState;
}

/** A channel of the bench. */
export interface Way {
  readonly instrument: string;
  readonly channel: string;
  /** A person reads it and types what it shows. */
  readonly isTyped: boolean;
}

/** By test point; none for one that nothing on the bench measures. */
export type Ways = Readonly<Record<string, Way>>;

export interface Split {
  readonly fault: string;
  readonly about: string;
  readonly title: string;
  readonly reads: number;
}

/** Components and suspects that count less are left out of the sum. */
const LEAST_PROBABILITY = 3e-4;
/** Less isn't worth a probe's move. */
const LEAST_BITS = 0.02;
/** A density that has fallen by exp(-40) adds nothing. */
const NOTHING_LEFT = 40;
/** What a meter adds, as a share of the model's own doubt. */
const METER_SHARE = 0.5;

/** Gauss-Hermite nodes in standard deviations and their weights (Abramowitz and Stegun, table 25.10, n = 5). */
const NODES: readonly (readonly [at: number, weight: number])[] = [
  [-2.8569700138728, 0.0112574113277],
  [-1.3556261799743, 0.2220759220056],
  [0, 0.5333333333333],
  [1.3556261799743, 0.2220759220056],
  [2.8569700138728, 0.0112574113277],
];

/** The moves of a probe in the time of one move of a voltmeter's tip (common practice). */
function costOf({ id, unit }: MeasurablePoint, lastNode: string | null): number {
  const node = id.slice(0, id.lastIndexOf('.'));
  if (unit === 'A' || unit === 'Arms') return 1.5;
  if (unit === 'degC') return 1.2;
  return node === lastNode ? 0.8 : 1;
}

/** The point whose reading would tell most about which suspect it is, for the trouble of reading it; null for none. */
export function nextPoint(
  model: SuspectModel,
  marks: readonly Mark[],
  { suspects, answers, other }: Pick<Posterior, 'suspects' | 'answers' | 'other'>,
  candidates: ReadonlySet<string>,
): NextPoint | null {
  const kept = answers.filter(({ probability }) => probability >= LEAST_PROBABILITY);
  const taken = new Set(marks.map(({ place }) => place));
  const places = model.points.flatMap(({ id }, place) =>
    taken.has(place) || !candidates.has(id) ? [] : [place],
  );
  const lastId = marks.length === 0 ? null : model.points[marks.at(-1)!.place]!.id;
  const lastNode = lastId === null ? null : lastId.slice(0, lastId.lastIndexOf('.'));
  const expected = kept.map(({ component }) => conditionals(component, marks, places));
  let best: NextPoint | null = null;
  let bestScore = 0;
  places.forEach((place, column) => {
    const point = model.points[place]!;
    const parts = kept.map(({ suspect, probability }, at) => ({
      suspect,
      probability,
      ...withDoubt(expected[at]![column]!, point),
    }));
    const gainBits = expectedGain(parts, suspects.length, other, point);
    const score = gainBits / costOf(point, lastNode);
    if (gainBits < LEAST_BITS || score <= bestScore) return;
    bestScore = score;
    best = { point: point.id, unit: point.unit, gainBits, splits: splitsOf(model, parts, suspects, point) };
  });
  return best;
}

interface Part extends Normal {
  readonly suspect: number;
  readonly probability: number;
}

function withDoubt({ mean, variance }: Normal, { unit, scale }: MeasurablePoint): Normal {
  const value = unscaled(mean, scale);
  const doubt = scaledAmount(modelDoubt(value, unit), value, scale);
  return { mean, variance: variance + doubt ** 2 * (1 + METER_SHARE ** 2) };
}

/** Mutual information of suspect and reading, bits (Cover and Thomas, Elements of Information Theory, 2.3). */
function expectedGain(parts: readonly Part[], count: number, other: number, point: MeasurablePoint): number {
  const totals = new Float64Array(count);
  for (const { suspect, probability } of parts) totals[suspect]! += probability;
  const whole = totals.reduce((sum, each) => sum + each, other);
  // The hot loop: every part's density at the nodes of every part, height x exp(-off^2 x sharpness).
  const owners = parts.map(({ suspect }) => suspect);
  const means = Float64Array.from(parts, ({ mean }) => mean);
  const sharpness = Float64Array.from(parts, ({ variance }) => 1 / (2 * variance));
  const heights = Float64Array.from(
    parts,
    ({ probability, variance }) => probability / Math.sqrt(2 * Math.PI * variance),
  );
  const densities = new Float64Array(count);
  let gain = 0;
  for (const { suspect, probability, mean, variance } of parts) {
    const deviation = Math.sqrt(variance);
    for (const [at, weight] of NODES) {
      const value = mean + at * deviation;
      let all = other * otherDensity(value, point);
      densities.fill(0);
      for (let part = 0; part < means.length; part += 1) {
        const fall = (value - means[part]!) ** 2 * sharpness[part]!;
        if (fall > NOTHING_LEFT) continue;
        const density = heights[part]! * Math.exp(-fall);
        densities[owners[part]!]! += density;
        all += density;
      }
      const own = densities[suspect]! / totals[suspect]!;
      gain += (probability / whole) * weight * Math.log2((own * whole) / all);
    }
  }
  return gain;
}

/** What the two leading suspects would read there. */
function splitsOf(
  model: SuspectModel,
  parts: readonly Part[],
  suspects: readonly number[],
  { scale }: MeasurablePoint,
): NextPoint['splits'] {
  return suspects
    .map((probability, suspect) => ({ probability, suspect }))
    .sort((a, b) => b.probability - a.probability)
    .slice(0, 2)
    .flatMap(({ suspect }) => {
      const own = parts.filter((part) => part.suspect === suspect);
      const total = own.reduce((sum, { probability }) => sum + probability, 0);
      if (total === 0) return [];
      const mean = own.reduce((sum, part) => sum + (part.probability / total) * part.mean, 0);
      const { fault, about, title } = model.suspects[suspect]!;
      return [{ fault, about, title, reads: unscaled(mean, scale) }];
    });
}
