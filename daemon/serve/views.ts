import type { AlarmFacts } from '../watch/alarm.js';
import { alarmState } from '../watch/alarm-state.js';
import { CUT_OFF_CAUTION } from '../watch/cut-off-words.js';
import { longestShelvedMs } from '../watch/shelving.js';
import { alarmList, pointStandings } from '../watch/standing.js';
import { expectedPrediction } from '../watch/expected.js';
import type { WatchState } from '../watch/state.js';
import { alarmWords } from '../watch/words.js';
import type { TypedChannel } from './typing.js';
import type {
  AlarmView,
  CutOffView,
  ExpectedView,
  InstrumentView,
  PointStanding,
  PointView,
} from './messages.js';

/** What the bench file says of an instrument, for the page. */
export interface InstrumentLabel {
  readonly name: string;
  readonly driver: string;
  readonly link: string;
  /** The channels whose readings a person types. */
  readonly typed?: readonly TypedChannel[];
}

/** Every channel of the bench whose readings a person types. */
export function typedChannels(labels: readonly InstrumentLabel[]): readonly TypedChannel[] {
  return labels.flatMap(({ typed }) => typed ?? []);
}

/** Every test point of the design; one that only a probe named has no prediction and isn't on the page. */
export function standings(state: WatchState): readonly PointStanding[] {
  const { points } = state.plan.prediction;
  return pointStandings(state).filter(({ id }) => Object.hasOwn(points, id));
}

export function pointViews(state: WatchState): readonly PointView[] {
  const { points } = expectedPrediction(state.plan.prediction, state.expecting);
  return standings(state).flatMap((standing) => {
    const predicted = points[standing.id];
    if (predicted === undefined) return [];
    const { label, unit, low, typical, high, limits, formula } = predicted;
    return [{ ...standing, label, unit, low, typical, high, limits, formula }];
  });
}

/** The bands that stand now. */
export function expectedView({ plan, expecting }: WatchState): ExpectedView {
  const { load, points } = expectedPrediction(plan.prediction, expecting);
  const bands = Object.values(points).map(({ id, low, typical, high }) => ({ id, low, typical, high }));
  return { load, bands };
}

export function instrumentViews(
  state: WatchState,
  labels: readonly InstrumentLabel[],
): readonly InstrumentView[] {
  return state.instruments.map(({ name, state: standing, why, identity, faults, lastFault }) => {
    const label = labels.find((one) => one.name === name);
    const { driver, link } = label ?? { driver: '', link: '' };
    return { name, driver, link, state: standing, why, identity, faults, lastFault };
  });
}

/** Worst first. */
export function alarmViews(state: WatchState): readonly AlarmView[] {
  return alarmList(state).map((facts) => alarmView(facts, state));
}

export function alarmView(facts: AlarmFacts, state: WatchState): AlarmView {
  const { id, priority, raisedAtMs, cause, firstUp, suppressedBy, shelvedUntilMs } = facts;
  const { sentence, spoken, cure } = alarmWords(cause, state.plan.prediction);
  return {
    id,
    priority,
    state: alarmState(facts),
    raisedAtMs,
    sentence,
    spoken,
    cure,
    firstUp,
    explainedBy: suppressedBy.map((by) => alarmSpoken(by, state)),
    shelvedUntilMs,
    shelveMinutes: longestShelvedMs(facts) / 60_000,
  };
}

export function cutOffViews(state: WatchState): readonly CutOffView[] {
  return state.cutOffs.map(({ output, state: standing, sinceMs, cause, position, falling }) => {
    const { on = [], at = null } = state.plan.cutOffs?.find((one) => one.output === output) ?? {};
    const reason = cause === null ? 'its test' : alarmWords(cause, state.plan.prediction).spoken;
    const why = standing === 'dropped' ? reason : null;
    const isFalling = falling !== null;
    return { output, state: standing, sinceMs, position, why, on, at, isFalling, caution: CUT_OFF_CAUTION };
  });
}

/** The short words of an alarm; its id once it is gone. */
function alarmSpoken(id: string, { alarms, plan }: WatchState): string {
  const alarm = alarms.find((one) => one.id === id);
  return alarm === undefined ? id : alarmWords(alarm.cause, plan.prediction).spoken;
}
