/** A stretch of session time, ms. */
export interface Span {
  readonly fromMs: number;
  readonly toMs: number;
}

/** Shorter than this there is nothing more to see: a fast meter gives ten readings a second. */
const SHORTEST_MS = 2000;

/** The span made wider (`factor` above 1) or closer, with `aroundMs` staying where it is on the screen. */
export function zoomed(span: Span, factor: number, aroundMs: number, lengthMs: number): Span {
  const widthMs = span.toMs - span.fromMs;
  const middleMs = Math.min(span.toMs, Math.max(span.fromMs, aroundMs));
  const share = (middleMs - span.fromMs) / widthMs;
  const nextMs = widthMs * factor;
  const fromMs = middleMs - share * nextMs;
  return within({ fromMs, toMs: fromMs + nextMs }, lengthMs);
}

/** The span moved by a share of its width, later when it is positive. */
export function moved({ fromMs, toMs }: Span, share: number, lengthMs: number): Span {
  const byMs = (toMs - fromMs) * share;
  return within({ fromMs: fromMs + byMs, toMs: toMs + byMs }, lengthMs);
}

/** The same span, moved as little as is needed to have `atMs` in it. */
export function including(span: Span, atMs: number, lengthMs: number): Span {
  if (atMs >= span.fromMs && atMs <= span.toMs) return span;
  const widthMs = span.toMs - span.fromMs;
  // A tenth before the moment, so that what leads to it is seen.
  return within({ fromMs: atMs - widthMs / 10, toMs: atMs + (widthMs * 9) / 10 }, lengthMs);
}

/** Whole milliseconds, inside the session, and not too short. */
export function within({ fromMs, toMs }: Span, lengthMs: number): Span {
  const widthMs = Math.min(lengthMs, Math.max(SHORTEST_MS, Math.round(toMs - fromMs)));
  const startMs = Math.min(Math.max(0, Math.round(fromMs)), Math.max(0, lengthMs - widthMs));
  return { fromMs: startMs, toMs: startMs + Math.max(1, widthMs) };
}
