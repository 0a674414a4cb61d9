import type { Overview, Stretch } from '../record/index/overview.js';
import type { RecordingView } from '../serve/job-views.js';
import type { PointView } from '../serve/messages.js';
import { pointViews } from '../serve/views.js';
import { beginWatch } from '../watch/watch.js';
import { bandsOf } from './bands.js';
import { curveView } from './curve-view.js';
import { begunView } from './folder-list.js';
import { marksOf } from './marks.js';

/** A stretch of a recording as the page draws it. */
export async function recordingView(
  file: string,
  overview: Overview,
  stretch: Stretch,
): Promise<Omit<RecordingView, 'running'>> {
  const { header, lengthMs, readings, happenings, happeningsLeftOut, problems } = overview;
  const points = measuredPoints(overview);
  const wanted = overview.series.filter(({ point, unit }) =>
    points.some((one) => one.id === point && one.unit === unit),
  );
  const curves = await overview.curves(wanted, stretch);
  return {
    file,
    begun: begunView(header),
    lengthMs,
    readings,
    fromMs: stretch.fromMs,
    toMs: stretch.toMs,
    points,
    curves: points.map(({ id }) =>
      curveView(wanted.flatMap(({ point }, i) => (point === id ? (curves[i] ?? []) : []))),
    ),
    bands: bandsOf(happenings, points),
    marks: marksOf(happenings, header.plan.prediction),
    marksLeftOut: happeningsLeftOut,
    problems: problems.map(({ why }) => why),
  };
}

/** In the order of the prediction. */
function measuredPoints({ header, series }: Overview): readonly PointView[] {
  return pointViews(beginWatch(header.plan)).filter(({ id, unit }) =>
    series.some((one) => one.point === id && one.unit === unit),
  );
}
