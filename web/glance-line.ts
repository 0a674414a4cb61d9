import type { AlarmView, PointView } from '../daemon/serve/messages.js';
import { isAside, isOver, worstFirst } from './alarm-order.js';
import { bandWidth, firstLimits } from './chart/domain.js';
import {
  differenceStyle,
  formatDuration,
  formatLimit,
  formatQuantity,
  formatRange,
  pointStyle,
  sentenceCase,
} from './format.js';
import { goingWords } from './going-words.js';
import { looksOff } from './looks-off.js';
import { STANDING_WORDS, standingOf, worstStanding, type Standing } from './point-standing.js';
import type { PageState } from './session-state.js';

/** The one sentence for a person who looks at the circuit, and what to do about it. */
export interface Glance {
  readonly tone: 'not-live' | 'high' | 'medium' | 'low' | 'watch' | 'well' | 'idle';
  readonly sentence: string;
  readonly cure: string;
}

export interface GlanceView {
  readonly state: PageState;
  readonly wallMs: number;
  /** How long the point's value has been steady, in ms; null when unknown. */
  readonly steadyMs: (point: PointView) => number | null;
}

/** The worst thing now and what to do; when all is well, what is closest to a limit and by how much. */
export function glanceLine(view: GlanceView): Glance {
  const { state } = view;
  if (state.link.kind !== 'live') return notLive(view);
  const alarms = worstFirst(state.alarms).filter((one) => !isAside(one));
  const alarm = alarms.find((one) => !isOver(one));
  if (alarm) return { tone: alarm.priority, sentence: alarm.sentence, cure: cureOf(alarm, state) };
  return (
    troubled(state.points) ??
    heading(state) ??
    over(alarms[0]) ??
    nothingToSee(state) ??
    switchedOff(state.points) ??
    allWell(view)
  );
}

/** What was so once is told as such, and nothing of it as if it were so now. */
function over(alarm: AlarmView | undefined): Glance | null {
  if (alarm === undefined) return null;
  return {
    tone: 'watch',
    sentence: `No longer so: ${alarm.sentence}`,
    cure: 'Find out why before you go on, then acknowledge or reset it.',
  };
}

function switchedOff(points: readonly PointView[]): Glance | null {
  if (!looksOff(points)) return null;
  return {
    tone: 'idle',
    sentence: 'It looks switched off where it is measured; the mains side may be live all the same.',
    cure: 'If it should be on: look at its plug, its switch and its fuse, and where the probes sit.',
  };
}

/** What the alarm says to do, and for a part that gets too hot what its design would need, with the number. */
function cureOf({ id, cure }: Pick<AlarmView, 'id' | 'cure'>, { supply }: PageState): string {
  const point = id.slice(id.indexOf(':') + 1);
  if (!point.endsWith('.case') && !point.endsWith('.junction')) return cure;
  const block = supply.blocks.find(({ part }) => point.startsWith(`${part}.`));
  const advice = block?.advice.find(({ finding }) => finding.startsWith('heatsink-'));
  return advice === undefined ? cure : `${cure} ${advice.cure}`;
}

function notLive({ state, wallMs }: GlanceView): Glance {
  if (state.heardAtWallMs === null) {
    return {
      tone: 'not-live',
      sentence: 'Not live: no word from the bench yet.',
      cure: 'Start Railminder on the computer that holds the instruments. This page joins by itself.',
    };
  }
  const ago = formatDuration(wallMs - state.heardAtWallMs);
  const last = worstFirst(state.alarms).find((one) => !isAside(one));
  return {
    tone: 'not-live',
    sentence: state.goodbye
      ? `Not live: ${state.goodbye}, ${ago} ago.`
      : `Not live: nothing heard for ${ago}.`,
    cure: `Everything below is old. Watch the circuit itself; this page keeps trying.${lastKnown(last)}`,
  };
}

function lastKnown(alarm: AlarmView | undefined): string {
  return alarm ? ` Last known: ${alarm.sentence}` : '';
}

const CURES: Partial<Record<Standing, string>> = {
  outside: 'Look at this part first. If it keeps moving away, switch off at the mains and find out why.',
  overload: 'The value is above the meter’s range: choose a higher range or check where the probe sits.',
  stale: 'Don’t trust the old value. Look at the instrument: its plug, its power, its screen.',
  unreadable: 'Look at the instrument and the probe; the last answer held no number.',
  doubtful: 'Too close to call with this meter. Check the probe and give it a minute.',
};

/** A point that isn't as it should be though no alarm has been raised about it (yet). */
function troubled(points: readonly PointView[]): Glance | null {
  const worst = worstStanding(points.map((point) => standingOf(point, true)));
  const cure = CURES[worst];
  const point = points.find((one) => standingOf(one, true) === worst);
  if (cure === undefined || !point) return null;
  return { tone: 'watch', sentence: troubledSentence(point, worst), cure };
}

function troubledSentence(point: PointView, standing: Standing): string {
  const label = sentenceCase(point.label);
  const style = pointStyle(point);
  if (standing === 'stale') return `${label} has gone silent.`;
  if (standing === 'overload') return `${label} is over the meter’s range.`;
  if (standing === 'unreadable' || point.value === null) return `${label} gives no number.`;
  const band = formatRange(point.low, point.high, style);
  return `${label} is ${STANDING_WORDS[standing]}: ${formatQuantity(point.value, style)}, predicted ${band}.`;
}

/** A temperature that will most likely settle beyond its limit, before the alarm about it is sure enough. */
function heading(state: PageState): Glance | null {
  for (const point of state.points) {
    const limit = firstLimits(point).find(({ side }) => side === 'high');
    const { settles, stale } = point;
    if (limit === undefined || settles === undefined || stale || settles.typical <= limit.value) continue;
    const going = goingWords(point);
    if (going === null || !going.startsWith('heading')) continue;
    return {
      tone: 'watch',
      sentence: `${sentenceCase(point.label)} is ${going}, over its limit of ${formatLimit(limit.value, pointStyle(point))}.`,
      cure: cureOf({ id: `:${point.id}`, cure: 'Be ready to switch off.' }, state),
    };
  }
  return null;
}

function nothingToSee({ points }: PageState): Glance | null {
  if (points.length === 0) {
    return {
      tone: 'idle',
      sentence: 'This supply has no test points yet.',
      cure: 'Describe its parts in the design file; every part brings its own test points.',
    };
  }
  if (points.every((point) => point.measuredBy === null)) {
    return {
      tone: 'idle',
      sentence: 'Nothing is measured yet.',
      cure: 'Power off, put a probe on a test point, and say in the bench file where it sits.',
    };
  }
  if (points.every((point) => point.value === null)) {
    return {
      tone: 'idle',
      sentence: 'Waiting for the first reading.',
      cure: 'If none comes, look below at the instruments: each says what it waits for.',
    };
  }
  return null;
}

function allWell({ state, steadyMs }: GlanceView): Glance {
  const measured = state.points.filter((point) => point.measuredBy !== null);
  const cover = `${measured.length} of ${state.points.length} test points measured, none outside its prediction.`;
  const closest = closestToLimit(measured);
  if (!closest)
    return { tone: 'well', sentence: 'All well: everything measured is as predicted.', cure: cover };
  const { point, limit, margin } = closest;
  const style = pointStyle(point);
  const steady = steadyMs(point);
  const steadyWords = steady !== null && steady >= 10_000 ? `, steady for ${formatDuration(steady)}` : '';
  return {
    tone: 'well',
    sentence:
      `All well: closest to a limit is ${point.label}, ${formatQuantity(closest.value, style)} ` +
      `with ${formatQuantity(margin, differenceStyle(style))} to spare${steadyWords}.`,
    cure: `${limit.side === 'high' ? 'Limit' : 'Lower limit'} ${formatLimit(limit.value, style)}: ${limit.why}. ${cover}`,
  };
}

interface Closest {
  readonly point: PointView;
  readonly value: number;
  readonly limit: PointView['limits'][number];
  /** Distance to the limit in the point's unit, negative when it has been crossed. */
  readonly margin: number;
}

/** Volts and degrees can't be compared: each distance counts in widths of the point's own predicted band. */
function closestToLimit(points: readonly PointView[]): Closest | null {
  let closest: (Closest & { readonly widths: number }) | null = null;
  for (const point of points) {
    for (const limit of point.limits) {
      if (point.value === null || point.stale) continue;
      const margin = limit.side === 'high' ? limit.value - point.value : point.value - limit.value;
      const widths = margin / bandWidth(point);
      if (!closest || widths < closest.widths) closest = { point, value: point.value, limit, margin, widths };
    }
  }
  return closest;
}
