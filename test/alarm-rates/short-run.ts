import { runDesigns } from './designs.js';
import { faultCases, faultedSession, type FaultedSession } from './faulted.js';
import { healthyHour } from './healthy.js';
import { countHour, type HourCount } from './rates.js';

/** How much of it is run. */
export interface ShortRun {
  readonly hours: number;
  /** Of the first session with a fault; the next ones follow. */
  readonly firstSeed: number;
  readonly minutes: { readonly healthy: number; readonly faulty: number };
}

export interface ShortRunResult {
  readonly hours: readonly HourCount[];
  /** Without their alarms, which are many. */
  readonly sessions: readonly FaultedSession[];
}

/** Each kind of fault once, on the first design that has it; one that comes while all is well. */
function run({ hours, firstSeed, minutes }: ShortRun): ShortRunResult {
  const designs = runDesigns();
  const later = faultCases(designs).filter(({ fromStart }) => !fromStart);
  const cases = [...new Map(later.toReversed().map((one) => [one.fault.name, one])).values()];
  return {
    hours: Array.from({ length: hours }, (_, seed) => countHour(healthyHour(designs, seed))),
    sessions: cases.map((one, place) => ({
      ...faultedSession(one, firstSeed + place, minutes),
      alarms: [],
    })),
  };
}

process.once('message', (asked) => {
  process.send?.(run(asked as ShortRun), () => process.disconnect());
});
