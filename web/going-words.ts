import type { PointView } from '../daemon/serve/messages.js';
import { formatNumber, pointStyle } from './format.js';

/** `heading for 131 °C (120 to 143 °C)`, or that it has settled; null for what isn't forecast. */
export function goingWords(point: PointView): string | null {
  const { settles, going } = point;
  if (settles === undefined || going === undefined) return null;
  const { low, typical, high } = settles;
  if (going === 'unsure') return 'can’t tell yet where it is going';
  // A tenth of a degree of where it will settle is nobody's to know.
  const style = { ...pointStyle(point), decimals: 0 };
  const whole = (value: number): string => formatNumber(value, style);
  const unit = `\u00a0${style.unitText}`;
  const middle = `${whole(typical)}${unit}`;
  if (going === 'arrived') return `settled, near ${middle}`;
  if (whole(low) === whole(high)) return `heading for ${middle}`;
  return `heading for ${middle} (${whole(low)} to ${whole(high)}${unit})`;
}
