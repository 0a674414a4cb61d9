import type { PointView } from '../daemon/serve/messages.js';

/** Shown before a person chooses: every measured temperature, or the first measured points of any kind. */
export function firstChoice(points: readonly PointView[]): ReadonlySet<string> {
  const measured = points.filter((point) => point.measuredBy !== null);
  const warm = measured.filter((point) => point.unit === 'degC');
  return new Set((warm.length > 0 ? warm : measured.slice(0, 2)).map((point) => point.id));
}

/** The choice with `point` added, or taken out. */
export function toggled(chosen: ReadonlySet<string>, point: string): ReadonlySet<string> {
  const next = new Set(chosen);
  if (!next.delete(point)) next.add(point);
  return next;
}
