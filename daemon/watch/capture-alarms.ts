import type { AlarmFacts } from './alarm.js';
import { pointAlarm, raiseAlarm, returnAlarm, type Raising } from './alarms.js';
import type { Draft } from './draft.js';
import type { RippleFound, RippleMissing } from './ripple/ripple.js';
import { predictionOf } from './sample.js';
import { everythingLooksOff, looksOff } from './supply-off.js';

/** Less than this on a rail isn't worth a look (common practice), V peak to peak. */
const LEAST_VOLTS = 0.02;
/** What isn't locked to the mains and is not told as an oscillation counts when it is so many times what is predicted. */
const MANY_TIMES = 5;
/** A sine's peak to peak over its RMS. */
const PEAK_TO_PEAK = 2 * Math.SQRT2;

/** Follows what only a waveform shows: how often the ripple repeats, and what isn't ripple. One capture is many readings. */
export function followCapture(draft: Draft, point: string, ripple: RippleFound | RippleMissing): void {
  followRate(draft, point, ripple);
  followOscillation(draft, point, ripple);
}

/** Half of a rectifier that doesn't conduct shows at the reservoirs and behind the filter. */
function followRate(draft: Draft, point: string, ripple: RippleFound | RippleMissing): void {
  const { supply } = draft.plan;
  if (supply === undefined || ripple.kind !== 'found' || !isBeforeRegulators(point)) return;
  const predicted = predictionOf(draft.prediction, `${nodeOf(point)}.ripple`);
  // While the reservoir runs down, its curve leaves something that looks like a little ripple.
  if (everythingLooksOff(draft) || (predicted !== undefined && looksOff(predicted, ripple.peakToPeak)))
    return;
  const found = ripple.halves === 'one' ? 'mains' : 'twice-mains';
  const isWrong = found !== supply.rippleRate;
  settle(draft, pointAlarm(draft, 'ripple-frequency', point), isWrong, {
    id: `ripple-frequency:${point}`,
    cause: {
      kind: 'ripple-frequency',
      point,
      mainsHertz: ripple.mainsHertz,
      expected: supply.rippleRate,
    },
    priority: 'medium',
    latched: false,
    suppressedBy: [],
  });
}

function followOscillation(draft: Draft, point: string, ripple: RippleFound | RippleMissing): void {
  const node = nodeOf(point);
  const rail = draft.plan.supply?.rails.find(({ name }) => name === node);
  if (draft.plan.supply === undefined || rail?.switches === true) return;
  if (rail === undefined && node !== 'filter') return;
  const expected = expectedRipple(draft, node);
  const found = oscillationIn(ripple, Math.max(LEAST_VOLTS, expected ?? 0));
  if (found === undefined) return;
  settle(draft, pointAlarm(draft, 'oscillating', point), found !== null, {
    id: `oscillating:${point}`,
    cause: {
      kind: 'oscillating',
      point,
      hertz: found?.hertz ?? null,
      peakToPeak: found?.peakToPeak ?? 0,
      expected,
    },
    priority: 'medium',
    latched: false,
    suppressedBy: [],
  });
}

interface Found {
  readonly hertz: number | null;
  readonly peakToPeak: number;
}

/** Null: none; undefined: this capture can't tell. */
function oscillationIn(ripple: RippleFound | RippleMissing, most: number): Found | null | undefined {
  if (ripple.kind === 'no-ripple') {
    const peakToPeak = PEAK_TO_PEAK * ripple.rms;
    return peakToPeak > MANY_TIMES * most ? { hertz: null, peakToPeak } : null;
  }
  if (ripple.kind !== 'found') return undefined;
  const { oscillation } = ripple.rest;
  if (oscillation === null) return null;
  const peakToPeak = 2 * oscillation.amplitude;
  return peakToPeak > most ? { hertz: oscillation.hertz, peakToPeak } : null;
}

function settle(draft: Draft, alarm: AlarmFacts | undefined, isWrong: boolean, raising: Raising): void {
  if (isWrong && alarm?.active !== true) raiseAlarm(draft, raising);
  if (!isWrong && alarm?.active === true) returnAlarm(draft, alarm);
}

function nodeOf(point: string): string {
  return point.slice(0, point.lastIndexOf('.'));
}

function isBeforeRegulators(point: string): boolean {
  return /^(reservoir|negative-reservoir|filter)\.(volts|ripple|valley)$/.test(point);
}

function expectedRipple(draft: Draft, node: string): number | null {
  return predictionOf(draft.prediction, `${node}.ripple`)?.high ?? null;
}
