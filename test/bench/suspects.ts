import { readFileSync } from 'node:fs';
import { LOAD_STATES, type LoadState } from '../../daemon/design/design.js';
import { loadDesign } from '../../daemon/design/load.js';
import { suspectClouds } from '../../daemon/watch/suspects/clouds.js';
import { judge } from '../../daemon/watch/suspects/judge.js';
import { beginSuspects } from '../../daemon/watch/suspects/model.js';
import { liveSession } from '../daemon/suspects/live-session.js';
import { outcomeOf, shares, type Outcome, type Shares } from '../daemon/watch/suspects/outcome.js';
import { benchFaults, sessionOf, type BenchFault } from '../daemon/watch/suspects/sessions.js';

export interface SuspectRow extends Shares {
  readonly name: string;
  readonly load: LoadState;
  readonly sessions: number;
}

/** Half of them healthy, the others with each fault in turn. */
const SESSIONS = 400;
/** Such a session goes through the core reading by reading and takes a second or more. */
const LIVE_SESSIONS = 76;
const LIVE_MINUTES = 12;

/** How often the suspects are right on the simulated bench, every point measured at once and live. */
export function rows(): readonly SuspectRow[] {
  const file = 'daemon/design/examples/signal-cabin/signal-cabin.design.yaml';
  const design = loadDesign(readFileSync(file, 'utf8'), file);
  const faults = benchFaults(design);
  const each = (count: number, outcome: (struck: BenchFault | null, seed: number) => Outcome): Shares =>
    shares(
      Array.from({ length: count }, (_, at) =>
        outcome(at % 2 === 0 ? null : faults[(at >> 1) % faults.length]!, 1 + at),
      ),
    );
  return LOAD_STATES.flatMap((load) => {
    const model = beginSuspects([...suspectClouds(design, { load, seed: 1 })]);
    const measured = each(SESSIONS, (struck, seed) => {
      const { truth, settled } = sessionOf(design, load, struck, seed);
      const { suspects, other } = judge(model, settled);
      return outcomeOf(truth, suspects, other.probability);
    });
    const live = each(LIVE_SESSIONS, (struck, seed) => {
      const { truth, told } = liveSession({ design, load, struck, seed, minutes: LIVE_MINUTES });
      const { suspects = [], other = 1 } = told.at(-1) ?? {};
      return outcomeOf(truth, suspects, other);
    });
    return [
      { name: 'all points measured', load, sessions: SESSIONS, ...measured },
      { name: `live for ${LIVE_MINUTES} minutes`, load, sessions: LIVE_SESSIONS, ...live },
    ];
  });
}
