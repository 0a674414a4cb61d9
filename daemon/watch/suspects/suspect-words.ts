import type { Spread } from '../../design/parts/spread.js';
import type { PointUnit } from '../../predict/prediction.js';
import { rangeWords, valueWords } from '../value-words.js';
import { HEALTHY, RIPPLE_HERTZ } from './clouds.js';
import type { Evidence } from './evidence.js';
import type { OtherLoad, Suspect, SuspectName } from './judgement.js';
import type { NextPoint, Way } from './next-point.js';
import type { ParameterEstimate } from './parameters.js';

/** What a person calls a point: `logic regulator tab`. */
export type LabelOf = (point: string) => string;

/** The fault with the part or rail that has it, where its title doesn't say that already. */
export function suspectName({ title, about }: Pick<SuspectName, 'title' | 'about'>): string {
  return about === '' || title.includes(about) ? title : `${title} (${about})`;
}

/** One piece of evidence as a sentence, made from its data here and nowhere else. */
export function evidenceWords(evidence: Evidence, labelOf: LabelOf): string {
  if (evidence.point === RIPPLE_HERTZ) return hertzWords(evidence);
  const { point, unit, value, expected, speaks, healthy } = evidence;
  const reads = `${capital(labelOf(point))}: ${valueWords(value, unit)}`;
  return speaks === 'for'
    ? `${reads}, ${differenceWords(value, unit, healthy)}.`
    : `${reads}, where this would read ${bandWords(expected, unit)}.`;
}

function hertzWords({ value, healthy, unit }: Evidence): string {
  const ripple = `The ripple is at ${valueWords(value, unit)}`;
  if (value < (3 / 4) * healthy.typical) {
    return `${ripple} where ${valueWords(healthy.typical, unit)} was expected: one half of the rectifier isn't conducting.`;
  }
  return `${ripple}: both halves of the rectifier conduct.`;
}

/** How a reading stands to what a healthy supply reads: `41 K hotter than a healthy one`. */
function differenceWords(value: number, unit: PointUnit, healthy: Spread): string {
  if (value >= healthy.low && value <= healthy.high) {
    return `as in a healthy one (${bandWords(healthy, unit)})`;
  }
  if (unit === 'degC') {
    const kelvins = value - healthy.typical;
    return `${Math.abs(kelvins).toFixed(0)} K ${kelvins > 0 ? 'hotter' : 'colder'} than a healthy one`;
  }
  const factor = value / healthy.typical;
  if (factor >= MANY_TIMES) return `${twoDigits(factor)} times what a healthy one reads`;
  if (factor > 0 && factor <= 1 / MANY_TIMES)
    return `${twoDigits(factor * 100)} % of what a healthy one reads`;
  const side = Math.abs(value) > Math.abs(healthy.typical) ? 'more' : 'less';
  return `${side} than a healthy one's ${bandWords(healthy, unit)}`;
}

/** From here on a factor says more than a difference. */
const MANY_TIMES = 1.5;

/** As many names as a person keeps in mind. */
const MOST_ALIKE = 4;

/**
 * What the readings leave open beside the leading suspect; null: nothing.
 * @param next what would tell more
 */
export function alikeWords({ fault, alike = [] }: Suspect, next: NextPoint | null = null): string | null {
  if (alike.length === 0) return null;
  const names = alike.slice(0, MOST_ALIKE).map(suspectName);
  const more = alike.length > MOST_ALIKE ? [`${alike.length - MOST_ALIKE} more`] : [];
  const nothing = next?.way === null ? 'Nothing that this bench measures' : 'No test point';
  if (fault === HEALTHY)
    return `${nothing} rules these out under this load: ${[...names, ...more].join('; ')}.`;
  return `Either this or: ${[...names, ...more].join('; or: ')}. ${nothing} tells them apart.`;
}

/** That another load fits better than the one that is said to be on. */
export function otherLoadWords({ load, probability }: OtherLoad): string {
  const percent = Math.min(99, Math.round(100 * probability));
  return `These readings fit ${load} load better (${percent} %): say which load is on.`;
}

/** What to measure next, how, and why. */
export function nextWords({ point, unit, splits, way, load }: NextPoint, labelOf: LabelOf): string {
  const reads = splits.map(({ title, reads }) => `${valueWords(reads, unit)} if ${title}`).join(', ');
  const label = labelOf(point);
  if (way === null) {
    return `Nothing on this bench measures ${label}. With ${toolFor(point, unit)} it would be about ${reads}.`;
  }
  const how = way === undefined ? '' : wayWords(point, way);
  return load === undefined
    ? `Measure ${label}${how} next: about ${reads}.`
    : `More shows with ${load} load on: then measure ${label}${how}, about ${reads}.`;
}

function wayWords(point: string, { instrument, channel, isTyped }: Way): string {
  const name = channel === point ? instrument : `${instrument} ${channel}`;
  return isTyped ? ` by hand (${name})` : ` with ${name}`;
}

/** What a person would borrow for it (common practice). */
function toolFor(point: string, unit: PointUnit): string {
  if (point.endsWith('.valley')) return 'a scope';
  return TOOLS[unit] ?? 'a meter';
}

const TOOLS: Partial<Readonly<Record<PointUnit, string>>> = {
  Vpp: "a scope or a meter's AC range",
  Arms: 'an AC clamp meter around a wire of the winding',
  degC: 'a temperature probe',
  V: 'a voltmeter',
};

/** A reading that fits nothing else, whatever the fault. */
export function oddWords(point: string, labelOf: LabelOf): string {
  return `What was read at ${labelOf(point)} doesn't fit the other readings: check its probe and range, and measure it again.`;
}

const PARAMETER_WORDS: Readonly<Record<ParameterEstimate['id'], string>> = {
  'reservoir.farads': "the reservoir's capacitance",
  'mains.volts': 'the mains volts',
  'transformer.winding-ohms': "the winding's resistance",
};

/** What the readings say of a value that nobody measured. */
export function parameterWords({ id, unit, low, typical, high }: ParameterEstimate): string {
  const micro = (value: number): string => twoDigits(value * 1e6);
  const [value, range] =
    unit === 'F'
      ? [`${micro(typical)} µF`, `${micro(low)} to ${micro(high)} µF`]
      : [valueWords(typical, unit), rangeWords(low, high, unit)];
  return `The readings put ${PARAMETER_WORDS[id]} at ${value} (${range}).`;
}

/** Rounded, and never with an exponent. */
function twoDigits(value: number): string {
  return String(Number(value.toPrecision(2)));
}

function bandWords({ low, high }: Spread, unit: PointUnit): string {
  return rangeWords(low, high, unit);
}

function capital(words: string): string {
  return `${words.slice(0, 1).toUpperCase()}${words.slice(1)}`;
}
