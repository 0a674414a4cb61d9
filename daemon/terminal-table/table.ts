import type { PointPrediction } from '../predict/prediction.js';
import { alarmState } from '../watch/alarm-state.js';
import { crossedLimit } from '../watch/compare.js';
import { expectedPrediction } from '../watch/expected.js';
import { pointStandings, type PointStanding } from '../watch/standing.js';
import type { WatchState } from '../watch/state.js';
import { leadingSuspect } from '../watch/suspected.js';
import { HEALTHY } from '../watch/suspects/clouds.js';
import { suspectName } from '../watch/suspects/suspect-words.js';
import { clockWords } from '../watch/clock-words.js';
import { bandCell, goingCell, shortValue } from './cells.js';

/** What fits on the terminal: characters in a line and lines. */
export interface TableSpace {
  readonly columns: number;
  readonly lines: number;
}

/** How a row begins, the worst first: a word, so that no colour is needed. */
const STANDINGS = ['at limit', 'outside', 'silent', 'doubtful', 'no number', 'not judged', 'inside'] as const;
type Standing = (typeof STANDINGS)[number];

interface Row {
  readonly standing: Standing;
  readonly cells: readonly [point: string, value: string, band: string, going: string];
}

const WIDTHS = { standing: 10, point: 18, value: 10, band: 19 } as const;

/**
 * Every measured test point in one line each, the worst first, under a line that says how the session stands. What
 * doesn't fit is counted in the last line.
 */
export function tableLines(state: WatchState, { columns, lines }: TableSpace): readonly string[] {
  const rows = rowsOf(state).map(rowLine);
  const head = [headLine(state), ...suspectLines(state)];
  const room = Math.max(1, lines - head.length);
  const shown = rows.length <= room ? rows : rows.slice(0, room - 1);
  const rest = rows.length - shown.length;
  const all = [...head, ...shown, ...(rest > 0 ? [`and ${rest} more, none of them worse`] : [])];
  return all.map((line) => cut(line, columns));
}

function headLine({ nowMs, plan, expecting, alarms, recorder }: WatchState): string {
  const open = alarms.filter((alarm) => !['shelved', 'suppressed'].includes(alarmState(alarm))).length;
  const told = open === 0 ? 'no alarms' : open === 1 ? '1 alarm' : `${open} alarms`;
  const step = expecting?.step == null ? '' : `, step ${expecting.step}`;
  const load = (expecting ?? plan.prediction).load;
  const recording = recorder.writing === true ? 'recording' : 'NOT RECORDING';
  return `${clockWords(nowMs)}  ${load} load${step}   ${told}   ${recording}`;
}

function suspectLines({ suspicion }: WatchState): string[] {
  const leading = leadingSuspect(suspicion);
  if (leading === null || leading.fault === HEALTHY) return [];
  return [`likely, ${(100 * leading.probability).toFixed(0)} %: ${suspectName(leading)}`];
}

function rowsOf(state: WatchState): Row[] {
  const { points } = expectedPrediction(state.plan.prediction, state.expecting);
  return pointStandings(state)
    .filter(({ measuredBy }) => measuredBy !== null)
    .flatMap((standing) => {
      const predicted = points[standing.id];
      return predicted === undefined ? [] : [rowOf(state, standing, predicted)];
    })
    .sort((a, b) => STANDINGS.indexOf(a.standing) - STANDINGS.indexOf(b.standing));
}

function rowOf(state: WatchState, standing: PointStanding, predicted: PointPrediction): Row {
  const { id, value, mark } = standing;
  const shown = value === null ? (mark ?? '') : shortValue(value, predicted.unit);
  const forecast = state.points[state.pointIndex[id] ?? -1]?.forecast ?? null;
  return {
    standing: standingOf(standing, predicted),
    cells: [id, shown, bandCell(predicted), standing.stale ? '' : goingCell(forecast, value)],
  };
}

function standingOf({ value, verdict, stale, mark }: PointStanding, predicted: PointPrediction): Standing {
  if (stale) return 'silent';
  if (value === null) return mark === null ? 'not judged' : 'no number';
  if (crossedLimit(value, predicted.limits) !== null) return 'at limit';
  return verdict ?? 'not judged';
}

function rowLine({ standing, cells: [point, value, band, going] }: Row): string {
  const left = `${standing.padEnd(WIDTHS.standing)} ${cut(point, WIDTHS.point).padEnd(WIDTHS.point)}`;
  return `${left} ${value.padStart(WIDTHS.value)}  ${band.padEnd(WIDTHS.band)} ${going}`.trimEnd();
}

/** With an ellipsis where it is longer. */
export function cut(text: string, length: number): string {
  return text.length <= length ? text : `${text.slice(0, length - 1)}…`;
}
