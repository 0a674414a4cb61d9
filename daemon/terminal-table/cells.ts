import type { PointPrediction, PointUnit } from '../predict/prediction.js';
import { goingOf } from '../watch/forecast/going.js';
import type { Forecast } from '../watch/forecast/forecast.js';
import { rangeWords, valueWords } from '../watch/value-words.js';

const LIKELY = 0.5;

/** A value with its unit as short as the trade writes it: `38 mVpp`. */
export function shortValue(value: number, unit: PointUnit): string {
  return short(valueWords(value, unit));
}

/** `4.90 to 5.10 V`. */
export function bandCell({ low, high, unit }: Pick<PointPrediction, 'low' | 'high' | 'unit'>): string {
  return short(rangeWords(low, high, unit));
}

function short(words: string): string {
  return words.replace(' peak to peak', 'pp').replace(' RMS', 'rms');
}

/** Where a temperature is going and how long it has: `-> 131 °C, 2:40 left`. */
export function goingCell(forecast: Forecast | null, value: number | null): string {
  if (forecast === null || value === null) return '';
  const going = goingOf(forecast, value);
  if (going !== 'on-its-way') return going === 'arrived' ? 'settled' : '';
  const ahead = forecast.crossings.find(({ probability, inS }) => probability > LIKELY && inS !== null);
  const left = ahead?.inS == null ? '' : `, ${minutes(ahead.inS.typical)} left`;
  return `-> ${forecast.settled.typical.toFixed(0)} °C${left}`;
}

function minutes(seconds: number): string {
  const whole = Math.max(0, Math.round(seconds));
  return `${Math.floor(whole / 60)}:${String(whole % 60).padStart(2, '0')}`;
}
