import type { PointView } from '../daemon/serve/messages.js';
import { fahrenheit, temperatureUnit } from './temperature-unit.js';

type Unit = PointView['unit'];

/** How numbers of one quantity are written, so that measured, predicted and limit share unit and decimals. */
export interface NumberStyle {
  /** Multiplies an SI value before it is written. */
  readonly factor: number;
  /** Added after that; only a temperature in degrees F has one. */
  readonly offset?: number;
  readonly decimals: number;
  readonly unitText: string;
}

const UNIT_TEXTS: Readonly<Record<Unit, string>> = {
  V: 'V',
  Vrms: 'V rms',
  Vpp: 'V pp',
  A: 'A',
  Arms: 'A rms',
  ohm: 'Ω',
  degC: '°C',
  Hz: 'Hz',
  W: 'W',
};

const MINUS = '\u2212';
const NO_BREAK_SPACE = '\u00a0';

/** The style for numbers about as large as `reference` (SI): four significant digits, two decimals at most. */
export function numberStyle(unit: Unit, reference: number): NumberStyle {
  if (unit === 'degC') return temperatureStyle();
  const size = Math.abs(reference);
  const milli = size > 0 && size < 0.5 && unit !== 'Hz' && unit !== 'ohm';
  const kilo = size >= 10_000 && unit === 'ohm';
  const factor = milli ? 1000 : kilo ? 0.001 : 1;
  const digits = size > 0 ? Math.floor(Math.log10(size * factor)) + 1 : 1;
  return {
    factor,
    decimals: Math.max(0, Math.min(2, (milli ? 3 : 4) - digits)),
    unitText: `${milli ? 'm' : kilo ? 'k' : ''}${UNIT_TEXTS[unit]}`,
  };
}

function temperatureStyle(): NumberStyle {
  if (temperatureUnit() === 'C') return { factor: 1, decimals: 1, unitText: UNIT_TEXTS.degC };
  return { factor: fahrenheit(1) - fahrenheit(0), offset: fahrenheit(0), decimals: 1, unitText: '°F' };
}

/** The style for how far two such values are apart. */
export function differenceStyle({ factor, decimals, unitText }: NumberStyle): NumberStyle {
  return { factor, decimals, unitText };
}

/** The style in which everything about one test point is written, chosen by its prediction. */
export function pointStyle(point: Pick<PointView, 'unit' | 'low' | 'high'>): NumberStyle {
  return numberStyle(point.unit, Math.max(Math.abs(point.low), Math.abs(point.high)));
}

/** The bare number, with a true minus sign and without a negative zero. */
export function formatNumber(value: number, style: NumberStyle): string {
  if (!Number.isFinite(value)) return '—';
  const scaled = value * style.factor + (style.offset ?? 0);
  // A value far above what the style was made for needs no decimals.
  const text = scaled.toFixed(Math.abs(scaled) >= 1000 ? 0 : style.decimals);
  if (Number(text) === 0) return text.replace('-', '');
  return text.replace('-', MINUS);
}

/** The number with its unit: `41.3 °C`. */
export function formatQuantity(value: number, style: NumberStyle): string {
  return `${formatNumber(value, style)}${NO_BREAK_SPACE}${style.unitText}`;
}

/** A limit: a whole number stands without decimals. `107 °C`. */
export function formatLimit(value: number, style: NumberStyle): string {
  return formatQuantity(value, style).replace(/\.0+(?=\u00a0)/, '');
}

/** `4.90 to 5.13 V`. */
export function formatRange(low: number, high: number, style: NumberStyle): string {
  return `${formatNumber(low, style)} to ${formatQuantity(high, style)}`;
}

/** A length of time for a sentence: `12 s`, `4 min`, `1 h 05 min`. */
export function formatDuration(lengthMs: number): string {
  const seconds = Math.max(0, Math.floor(lengthMs / 1000));
  if (seconds < 90) return `${seconds}${NO_BREAK_SPACE}s`;
  const minutes = Math.floor(seconds / 60);
  if (minutes < 60) return `${minutes}${NO_BREAK_SPACE}min`;
  const rest = String(minutes % 60).padStart(2, '0');
  return `${Math.floor(minutes / 60)}${NO_BREAK_SPACE}h${NO_BREAK_SPACE}${rest}${NO_BREAK_SPACE}min`;
}

/** A moment of the session as a clock: `12:41`, from an hour on `1:12:41`. */
export function formatSessionTime(atMs: number): string {
  const seconds = Math.max(0, Math.floor(atMs / 1000));
  const two = (part: number): string => String(part).padStart(2, '0');
  const hours = Math.floor(seconds / 3600);
  const minutes = Math.floor(seconds / 60) % 60;
  return hours > 0 ? `${hours}:${two(minutes)}:${two(seconds % 60)}` : `${two(minutes)}:${two(seconds % 60)}`;
}

/** A sentence that comes from elsewhere: numbers stay on a line with their unit, temperatures are in the person's. */
export function keepUnits(sentence: string): string {
  return inShownUnit(sentence).replace(
    /(\d) (?=(?:°[CF]|[mk]?[VAWΩ]|Hz|K)(?![\p{L}]))/gu,
    `$1${NO_BREAK_SPACE}`,
  );
}

const TEMPERATURES = /(?<!\d)([-\u2212]?\d+(?:\.\d+)?)(?: to ([-\u2212]?\d+(?:\.\d+)?))?([ \u00a0])°C/g;

function inShownUnit(sentence: string): string {
  if (temperatureUnit() === 'C') return sentence;
  return sentence.replace(TEMPERATURES, (_all, from: string, to: string | undefined, blank: string) => {
    const range = to === undefined ? inFahrenheit(from) : `${inFahrenheit(from)} to ${inFahrenheit(to)}`;
    return `${range}${blank}°F`;
  });
}

/** As many decimals as the digits had. */
function inFahrenheit(digits: string): string {
  const decimals = digits.split('.')[1]?.length ?? 0;
  return fahrenheit(Number(digits.replace(MINUS, '-')))
    .toFixed(decimals)
    .replace('-', MINUS);
}

/** The first letter in upper case, for labels that begin a line or a sentence. */
export function sentenceCase(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
