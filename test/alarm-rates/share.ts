import { runDesigns } from './designs.js';
import { faultCases, faultedSession } from './faulted.js';
import { healthyHour } from './healthy.js';
import { countHour, measuresOf, sessionLine } from './rates.js';

/** From one session's case to the next, so that a short run sees every design; prime. */
const STEP = 7;

/** Every so many-th hour and session of all, told to whoever began this process, one message each. */
export function runShare({
  hours,
  sessions,
  seed,
  share,
  of,
}: {
  readonly hours: number;
  readonly sessions: number;
  readonly seed: number;
  readonly share: number;
  readonly of: number;
}): void {
  const designs = runDesigns();
  const cases = faultCases(designs);
  for (let number = share; number < Math.max(hours, sessions); number += of) {
    if (number < sessions) {
      const session = faultedSession(cases[(STEP * number) % cases.length]!, seed + number);
      process.send?.({ session: { ...session, alarms: undefined }, line: sessionLine(session) });
    }
    if (number < hours) process.send?.({ hour: countHour(healthyHour(designs, seed + number)) });
  }
}

export { measuresOf };
