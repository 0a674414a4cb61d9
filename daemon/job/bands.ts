import type { Happening } from '../record/index/happenings.js';
import type { PointView } from '../serve/messages.js';
import type { BandView } from '../serve/job-views.js';

/** The bands that held for each point, from when on; only for points that ever had others than their prediction. */
export function bandsOf(
  happenings: readonly Happening[],
  points: readonly PointView[],
): Readonly<Record<string, readonly BandView[]>> {
  const expected = happenings.filter((one) => one.kind === 'expect');
  return Object.fromEntries(
    points.flatMap((point) => {
      if (!expected.some(({ bands }) => Object.hasOwn(bands, point.id))) return [];
      const own = bandOf(0, point);
      const spans = expected.map(({ atMs, bands }) =>
        Object.hasOwn(bands, point.id) ? bandOf(atMs, bands[point.id] ?? point) : { ...own, fromMs: atMs },
      );
      return [[point.id, [own, ...spans]]];
    }),
  );
}

function bandOf(fromMs: number, { low, typical, high }: Omit<BandView, 'fromMs'>): BandView {
  return { fromMs, low, typical, high };
}
