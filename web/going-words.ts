import type { PointView } from '../daemon/serve/messages.js';
import { formatNumber, pointStyle } from './format.js';

/** A forecast wider than this helps nobody. */
const TOO_WIDE_KELVIN = 60;
const SETTLED_KELVIN = 1.5;

/** `heading for 131 °C (120 to 143 °C)`, or that it has settled; null for what isn't forecast. */
export function goingWords(point: PointView): string | null {
  const { settles, value } = point;
  if (settles === undefined || value === null) return null;
  const { low, typical, high } = settles;
  if (high - low > TOO_WIDE_KELVIN) return 'can’t tell yet where it is going';
  // A tenth of a degree of where it will settle is nobody's to know.
  const style = { ...pointStyle(point), decimals: 0 };
  const whole = (value: number): string => formatNumber(value, style);
  const unit = `\u00a0${style.unitText}`;
  const middle = `${whole(typical)}${unit}`;
  if (Math.abs(typical - value) < SETTLED_KELVIN) return `settled, near ${middle}`;
  if (whole(low) === whole(high)) return `heading for ${middle}`;
  return `heading for ${middle} (${whole(low)} to ${whole(high)}${unit})`;
}
