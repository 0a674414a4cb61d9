import { readFileSync } from 'node:fs';
import { LOAD_STATES, type Design, type LoadState } from '../../daemon/design/design.js';
import { loadDesign } from '../../daemon/design/load.js';
import { suspectClouds } from '../../daemon/watch/suspects/clouds.js';
import { judge } from '../../daemon/watch/suspects/judge.js';
import { beginSuspects } from '../../daemon/watch/suspects/model.js';
import { liveSession } from '../daemon/suspects/live-session.js';
import {
  leadsByEighty,
  outcomeOf,
  share,
  shares,
  type Outcome,
  type Shares,
} from '../daemon/watch/suspects/outcome.js';
import { benchFaults, sessionOf, type BenchFault } from '../daemon/watch/suspects/sessions.js';
import { followingTheAdvice, topToBottom } from '../daemon/watch/suspects/step-by-step.js';

export interface SuspectRow extends Shares {
  readonly name: string;
  readonly load: LoadState | 'all';
  readonly sessions: number;
  /** Of what was said to be 70 to 90 % probable. */
  readonly eightyRight: number;
  /** So many less than from top to bottom, by following the advice until it is 90 % sure; only where it was tried. */
  readonly readingsSaved?: number;
}

/** Of each load: half of them healthy, the others with each fault in turn. */
const SESSIONS = 400;
/** Such a session goes through the core reading by reading and takes a second or more. */
const LIVE_SESSIONS = 76;
const LIVE_MINUTES = 12;

/** What came of one session. */
interface Told {
  readonly outcome: Outcome;
  readonly eighty: readonly boolean[];
  /** Readings until it was 90 % sure. */
  readonly readings?: { readonly advice: number; readonly list: number };
}

/** How often the suspects are right on the simulated bench, every point measured and live; each row is told at once. */
export function rows(): readonly SuspectRow[] {
  const file = 'daemon/design/examples/signal-cabin/signal-cabin.design.yaml';
  const design = loadDesign(readFileSync(file, 'utf8'), file);
  return [
    ...rowsOf(design, 'all points measured', SESSIONS, measured),
    ...rowsOf(design, `live for ${LIVE_MINUTES} minutes`, LIVE_SESSIONS, live),
  ];
}

type Try = (struck: BenchFault | null, seed: number) => Told;

/** One row for each load, and one for all of them together. No two supplies are the same. */
function rowsOf(
  design: Design,
  name: string,
  sessions: number,
  tryUnder: (design: Design, load: LoadState) => Try,
): SuspectRow[] {
  const faults = benchFaults(design);
  const all: Told[] = [];
  const byLoad = LOAD_STATES.map((load, place) => {
    const tried = tryUnder(design, load);
    const told = Array.from({ length: sessions }, (_, at) =>
      tried(at % 2 === 0 ? null : faults[(at >> 1) % faults.length]!, 1 + place * sessions + at),
    );
    all.push(...told);
    return tell(rowOf(name, load, told));
  });
  return [...byLoad, tell(rowOf(name, 'all', all))];
}

function measured(design: Design, load: LoadState): Try {
  const model = beginSuspects([...suspectClouds(design, { load, seed: 1 })]);
  return (struck, seed) => {
    const { truth, settled } = sessionOf(design, load, struck, seed);
    const { suspects, other } = judge(model, settled);
    const advice = followingTheAdvice(model, settled);
    const list = topToBottom(model, settled);
    return {
      outcome: outcomeOf(truth, suspects, other.probability),
      eighty: [...advice.steps, ...list.steps].flatMap((step) => leadsByEighty(truth, step.suspects)),
      readings: { advice: advice.readings, list: list.readings },
    };
  };
}

function live(design: Design, load: LoadState): Try {
  return (struck, seed) => {
    const { truth, told } = liveSession({ design, load, struck, seed, minutes: LIVE_MINUTES });
    const { suspects = [], other = 1 } = told.at(-1) ?? {};
    return {
      outcome: outcomeOf(truth, suspects, other),
      eighty: told.flatMap((each) => leadsByEighty(truth, each.suspects)),
    };
  };
}

function rowOf(name: string, load: SuspectRow['load'], told: readonly Told[]): SuspectRow {
  const readings = told.flatMap((each) => each.readings ?? []);
  const sum = (way: 'advice' | 'list'): number => readings.reduce((total, each) => total + each[way], 0);
  return {
    name,
    load,
    sessions: told.length,
    ...shares(told.map(({ outcome }) => outcome)),
    eightyRight: share(
      told.flatMap(({ eighty }) => eighty),
      (isRight) => isRight,
    ),
    ...(readings.length > 0 && { readingsSaved: 1 - sum('advice') / sum('list') }),
  };
}

/** It goes on for minutes: what was counted already is not to wait for the end. */
function tell(row: SuspectRow): SuspectRow {
  console.log(JSON.stringify(row));
  return row;
}
