import { compareSessions, differenceWords, type Comparison } from '../record/session/compare-sessions.js';
import type { SessionHistory } from '../record/session/history.js';
import type { ComparedPoint, ComparedSession, CompareView, CurveView } from '../serve/job-views.js';
import type { PointView } from '../serve/messages.js';
import { pointViews } from '../serve/views.js';
import { beginWatch } from '../watch/watch.js';
import { alarmWords } from '../watch/words.js';
import { curveView } from './curve-view.js';
import { begunView } from './folder-list.js';

/** Names the two recordings by what stands in the folder. */
export interface ComparedFiles {
  readonly before: string;
  readonly after: string;
}

export function compareView(
  files: ComparedFiles,
  before: SessionHistory,
  after: SessionHistory,
): CompareView {
  const comparison = compareSessions(before, after);
  const points = [...pointsOf(after), ...pointsOf(before)].filter(
    ({ id }, i, all) => all.findIndex((one) => one.id === id) === i,
  );
  return {
    before: comparedSession(files.before, before),
    after: comparedSession(files.after, after),
    sameDesign: before.header.design.text === after.header.design.text,
    points: points.map((point) => comparedPoint(point, comparison, [before, after])),
  };
}

/** Those that were measured. */
function pointsOf({ header, points }: SessionHistory): readonly PointView[] {
  const measured = new Set(points.map(({ id }) => id));
  return pointViews(beginWatch(header.plan)).filter(({ id }) => measured.has(id));
}

function comparedPoint(
  point: PointView,
  comparison: Comparison,
  [before, after]: readonly [SessionHistory, SessionHistory],
): ComparedPoint {
  return {
    point,
    sentence: sentenceOf(point.id, comparison),
    before: sinceOn(before, point.id),
    after: sinceOn(after, point.id),
  };
}

function sentenceOf(id: string, { differences, onlyBefore, onlyAfter }: Comparison): string {
  if (onlyBefore.includes(id)) return `${id}: measured before only.`;
  if (onlyAfter.includes(id)) return `${id}: measured afterwards only.`;
  const difference = differences.find((one) => one.id === id);
  if (difference === undefined)
    return `${id}: nothing can be compared, because the supply was not on in both.`;
  return `${differenceWords(difference)}.`;
}

function sinceOn({ points, powerOnAtMs }: SessionHistory, id: string): CurveView | null {
  const found = points.find((one) => one.id === id);
  return found === undefined ? null : curveView(found.buckets, powerOnAtMs ?? 0);
}

function comparedSession(file: string, history: SessionHistory): ComparedSession {
  const { header, lengthMs, powerOnAtMs, alarms, problems } = history;
  const raised = new Map(
    alarms.flatMap(({ change, alarm }) =>
      change === 'raised' || change === 'worse'
        ? [[alarm.id, alarmWords(alarm.cause, header.plan.prediction).sentence]]
        : [],
    ),
  );
  return {
    file,
    begun: begunView(header),
    lengthMs,
    powerOnAtMs,
    alarms: [...raised.values()],
    problems: problems.map(({ why }) => why),
  };
}
