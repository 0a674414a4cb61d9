import type { CaptureView, PointView, SupplyView } from '../daemon/serve/messages.js';
import { formatQuantity, formatRange, numberStyle } from './format.js';

type Ripple = NonNullable<CaptureView['ripple']>;
type Found = Extract<Ripple, { kind: 'found' }>;

/** One bar of the ripple's spectrum. */
export interface RippleBar {
  /** `100 Hz`. */
  readonly title: string;
  /** Peak to peak of its sine, V. */
  readonly volts: number;
  /** Of the largest bar, 0 to 1. */
  readonly share: number;
  /** What it means. */
  readonly words: string;
}

/** The bars at once, twice and four times the mains frequency, each with its meaning. */
export function rippleBars(found: Found, rectifier: SupplyView['rectifier']): readonly RippleBar[] {
  const { mainsHertz, atMains, atTwiceMains, atFourTimesMains, halves } = found;
  const base = mainsHertz > 55 ? 60 : 50;
  const largest = Math.max(atMains, atTwiceMains, atFourTimesMains, Number.MIN_VALUE);
  const bar = (times: number, amplitude: number, words: string): RippleBar => ({
    title: `${times * base}\u00a0Hz`,
    volts: 2 * amplitude,
    share: amplitude / largest,
    words,
  });
  return [
    bar(1, atMains, ONE_HALF[halves](rectifier)),
    bar(2, atTwiceMains, halves === 'both' ? 'both halves conduct' : 'what both halves have in common'),
    bar(4, atFourTimesMains, 'how steeply it is charged; part of every ripple'),
  ];
}

/** What a share at the mains frequency itself means. A rectifier of both halves leaves none (common practice). */
const ONE_HALF: Readonly<Record<Found['halves'], (rectifier: SupplyView['rectifier']) => string>> = {
  both: () => 'next to nothing: the halves are alike',
  uneven: () => 'one half gives more than the other: a weak diode or joint, or hum that got in',
  one: (rectifier) =>
    rectifier === 'half-wave'
      ? 'one half conducts, as this rectifier should'
      : 'one half is missing: look for an open diode or half winding',
};

/** One sentence for eye and ear: how much ripple, against what was predicted. */
export function rippleSentence(found: Found, point: PointView | undefined): string {
  const style = numberStyle('Vpp', found.peakToPeak);
  const predicted =
    point?.unit === 'Vpp'
      ? `, predicted ${formatRange(point.low, point.high, numberStyle('Vpp', point.high))}`
      : '';
  const least = found.clipped === null ? '' : 'at least ';
  return `Ripple ${least}${formatQuantity(found.peakToPeak, style)} peak to peak${predicted}.`.replace(
    /V pp peak/,
    'V peak',
  );
}

/** What isn't ripple. */
export function restSentence({ rest }: Found): string {
  const style = numberStyle('V', rest.peakToPeak);
  const size = `Everything else ${formatQuantity(rest.peakToPeak, style)} peak to peak`;
  const { oscillation } = rest;
  if (oscillation === null) return `${size}: noise.`;
  const where = oscillation.hertz === null ? '' : ` at ${hertzWords(oscillation.hertz)}`;
  return `${size}, an oscillation${where} among it: look at the regulator’s output capacitor and its wiring.`;
}

/** What makes the numbers less sure than they look. */
export function rippleDoubts({ clipped, resolution }: Found): readonly string[] {
  return [
    ...(clipped === null ? [] : ['The top or bottom is cut off: choose a larger range.']),
    ...(resolution.coarse
      ? ['Few steps of the instrument make up this ripple: choose a smaller range.']
      : []),
  ];
}

/** Why no ripple can be told, and what to change. */
export function noRippleWords(missing: Exclude<Ripple, Found>): string {
  switch (missing.kind) {
    case 'too-short':
      return `Too short to tell the ripple: it holds ${missing.periods.toFixed(1)} mains periods of the ${missing.periodsNeeded} that are needed. Choose a slower time base.`;
    case 'too-slow':
      return `Too few samples a mains period: ${missing.samplesPerPeriod.toFixed(0)} of the ${missing.samplesNeeded} that are needed. Choose a faster time base.`;
    case 'no-ripple':
      return 'Nothing here keeps time with the mains. Is the supply on, and the probe on its point?';
    case 'grounded':
      return 'The input is switched to ground: it measures nothing.';
    case 'not-numbers':
      return 'The instrument sent no usable numbers. Capture again.';
  }
}

function hertzWords(hertz: number): string {
  const [factor, unit] = hertz >= 1e6 ? [1e-6, 'MHz'] : hertz >= 1000 ? [1e-3, 'kHz'] : [1, 'Hz'];
  return `${(hertz * factor).toPrecision(3)}\u00a0${unit}`;
}
