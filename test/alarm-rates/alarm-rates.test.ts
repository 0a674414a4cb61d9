import { beforeAll, describe, expect, it } from 'vitest';
import { runDesigns, type RunDesign } from './designs.js';
import { faultCases, faultedSession, type FaultCase } from './faulted.js';
import { healthyHour } from './healthy.js';
import { countHour } from './rates.js';

const HOURS = 6;
const MOST_IN_TEN_MINUTES = 10;
const MINUTES = { healthy: 5, faulty: 15 };

let designs: readonly RunDesign[] = [];
let cases: readonly FaultCase[] = [];
beforeAll(() => {
  designs = runDesigns();
  // Each kind of fault once, on the first design that has it; one that comes while all is well.
  const later = faultCases(designs).filter(({ fromStart }) => !fromStart);
  cases = [...new Map(later.toReversed().map((one) => [one.fault.name, one])).values()];
}, 120_000);

describe('alarms over simulated hours (the whole of it: npm run alarm-rates)', () => {
  it(`ask for nobody more than once an hour in healthy running, none chattering (seeds 0 to ${HOURS - 1})`, () => {
    const hours = Array.from({ length: HOURS }, (_, seed) => countHour(healthyHour(designs, seed)));
    expect(hours.flatMap(({ asked }) => asked).length).toBeLessThanOrEqual(HOURS);
    expect(hours.flatMap(({ chattering }) => chattering)).toEqual([]);
  }, 600_000);

  it('name nine of ten faults first, at most ten in the ten minutes after it, none chattering (seeds 500 on)', () => {
    const sessions = cases.map((one, place) => faultedSession(one, 500 + place, MINUTES));
    expect(sessions.length).toBeGreaterThanOrEqual(15);
    expect(sessions.filter(({ first }) => first === null).map(({ fault }) => fault)).toEqual([]);
    const unnamed = sessions.filter(({ namesCause }) => !namesCause).map(({ fault }) => fault);
    expect(unnamed.length).toBeLessThanOrEqual(sessions.length / 10);
    for (const { inTenMinutes } of sessions) expect(inTenMinutes).toBeLessThanOrEqual(MOST_IN_TEN_MINUTES);
    expect(sessions.flatMap(({ chattering }) => chattering)).toEqual([]);
    expect(sessions.filter(({ oneFirstUp }) => !oneFirstUp).map(({ fault }) => fault)).toEqual([]);
  }, 600_000);
});
