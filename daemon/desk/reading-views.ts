import type { ReadingView } from '../serve/instrument-messages.js';

interface Reading {
  readonly channel: string;
  readonly value: number | null;
  readonly unit: string;
  readonly mark?: string | undefined;
}

/** Readings as the page gets them. */
export function readingViews(readings: readonly Reading[]): readonly ReadingView[] {
  return readings.map(({ channel, value, unit, mark }) => ({ channel, value, unit, mark: mark ?? null }));
}
