import type { CaptureView } from '../daemon/serve/messages.js';

/** What of a capture is drawn, in units of a box of 1000 x 240 with y downwards. */
export interface WaveGeometry {
  /** A closed path between the lowest and the highest sample of each column. */
  readonly wave: string;
  /** x where a mains period begins. */
  readonly periods: readonly number[];
  /** The predicted peak-to-peak around the middle of the wave: the most that is likely, and the least. */
  readonly predicted: { readonly most: Band; readonly least: Band } | null;
  /** Values at the upper and the lower edge, in the capture's unit. */
  readonly top: number;
  readonly bottom: number;
}

export interface Band {
  readonly top: number;
  readonly height: number;
}

export const WAVE_WIDTH = 1000;
export const WAVE_HEIGHT = 240;
const MARGIN = 0.08;

/** @param predicted peak-to-peak in the capture's unit; null when none is. */
export function waveGeometry(
  { lows, highs, lengthSeconds, ripple }: CaptureView,
  predicted: { readonly low: number; readonly high: number } | null,
): WaveGeometry {
  let low = Infinity;
  let high = -Infinity;
  for (const value of lows) low = Math.min(low, value);
  for (const value of highs) high = Math.max(high, value);
  const middle = (low + high) / 2;
  const half = Math.max(high - low, predicted?.high ?? 0, Math.abs(middle) * 1e-6, 1e-9) / 2;
  const top = middle + half * (1 + 2 * MARGIN);
  const bottom = middle - half * (1 + 2 * MARGIN);
  const y = (value: number): number => round(((top - value) / (top - bottom)) * WAVE_HEIGHT);
  const x = (column: number): number => round(((column + 0.5) / lows.length) * WAVE_WIDTH);
  const there = highs.map((value, i) => `${x(i)} ${y(value)}`);
  const back = lows.map((value, i) => `${x(i)} ${y(value)}`).reverse();
  const band = (size: number): Band => ({
    top: y(middle + size / 2),
    height: round((size / (top - bottom)) * WAVE_HEIGHT),
  });
  return {
    wave: `M${[...there, ...back].join('L')}Z`,
    periods: ripple?.kind === 'found' ? periodStarts(highs, lengthSeconds * ripple.mainsHertz) : [],
    predicted: predicted && { most: band(predicted.high), least: band(predicted.low) },
    top,
    bottom,
  };
}

/** From the highest place of the first period on, one period apart. */
function periodStarts(highs: readonly number[], periods: number): readonly number[] {
  const width = WAVE_WIDTH / periods;
  const first = highs.slice(0, Math.max(1, Math.floor(highs.length / periods)));
  const start = ((first.indexOf(Math.max(...first)) + 0.5) / highs.length) * WAVE_WIDTH;
  return Array.from({ length: Math.ceil(periods) }, (_, i) => round(start + i * width)).filter(
    (at) => at <= WAVE_WIDTH,
  );
}

function round(value: number): number {
  return Math.round(value * 100) / 100;
}
