import { describe, expect, it } from 'vitest';
import type { Effect } from '../../../daemon/watch/effects.js';
import type { SuspectsEvent, WatchEvent } from '../../../daemon/watch/events.js';
import type { Judgement } from '../../../daemon/watch/suspects/judgement.js';
import type { Settled } from '../../../daemon/watch/suspects/settled.js';
import { beginWatch, type WatchState } from '../../../daemon/watch/watch.js';
import { LiveSuspects } from '../../../daemon/suspects/live-suspects.js';
import type { StartSuspectThread } from '../../../daemon/suspects/suspect-thread.js';
import type { Settling } from '../../../daemon/watch/settling/settling.js';
import { cabin } from '../design/signal-cabin.js';
import { procedureOf } from '../../../daemon/procedure/procedure.js';
import { manualClock } from '../../manual-clock.js';
import { PLAN, tick } from '../watch/cabin.js';

const settled = (point: string, value: number): Effect => ({
  kind: 'settled',
  atMs: 0,
  point,
  value,
  standardUncertainty: 0.01,
  count: 10,
});
const expectLoad = (load: 'typical' | 'full', step: string | null = null): WatchEvent => ({
  kind: 'expect',
  atMs: 0,
  load,
  step,
  measured: [],
  bands: {},
});
const named = (load: 'typical' | 'full'): WatchEvent => ({ kind: 'load', atMs: 0, load });
const STANDING: Settling = {
  kind: 'standing',
  value: 20,
  deviation: 0,
  deviationOfMean: 0,
  sinceMs: -5000,
  count: 10,
  tolerance: 0.1,
  toldValue: 20,
};
const suspect = (fault: string, probability: number) => ({
  fault,
  about: 'logic',
  title: fault,
  probability,
  evidence: [],
  action: { switchOff: true, words: 'Switch off.' },
});
const JUDGEMENT: Judgement = {
  suspects: [suspect('overload', 0.7), suspect('healthy', 0.2), suspect('adjust-open', 0.01)],
  other: { probability: 0.09, action: { switchOff: true, words: 'Switch off.' } },
  next: null,
  odd: [],
  parameters: [],
  otherLoad: null,
};

const WALKED = {
  ...PLAN,
  procedure: procedureOf(cabin(), { load: 'full', lamp: null, hasCutOff: false, canMeasure: () => true }),
};

/** Suspects whose thread answers when the test says so. */
function staged() {
  const clock = manualClock();
  const told: SuspectsEvent[] = [];
  const asked: (readonly Settled[])[] = [];
  const loads: string[] = [];
  const troubles: string[] = [];
  let isWell = true;
  let answer: () => void = () => undefined;
  let fail: () => void = () => undefined;
  let started = 0;
  const startThread: StartSuspectThread = (_task, { onJudged, onFailed }) => {
    started += 1;
    answer = () => onJudged(JUDGEMENT);
    fail = () => onFailed('out of memory');
    return {
      weigh({ settled: readings, load, isLoadSure }) {
        asked.push(readings);
        loads.push(`${load} ${isLoadSure ? 'for certain' : 'perhaps'}`);
      },
      stop: () => undefined,
    };
  };
  const suspects = new LiveSuspects({
    design: cabin(),
    load: 'typical',
    seed: 1,
    startThread,
    clock,
    emit: (event) => told.push(event),
    onHealth: (why) => void (why === null ? (isWell = true) : ((isWell = false), troubles.push(why))),
  });
  let state = beginWatch(WALKED);
  return {
    clock,
    told,
    asked,
    loads,
    troubles,
    isWell: () => isWell,
    suspects,
    started: () => started,
    /** As if the core had come to this. */
    see: (change: Partial<WatchState>) => (state = { ...state, ...change }),
    answer: () => answer(),
    fail: () => fail(),
    take: (event: WatchEvent, ...effects: readonly Effect[]) => suspects.take(event, state, effects),
  };
}

describe('weighing what has settled', () => {
  it('begins no thread before anything has settled, and tells what is worth telling', () => {
    const { take, started, asked, answer, told } = staged();
    take(tick(0));
    expect(started()).toBe(0);
    take(tick(1), settled('reservoir.volts', 20));
    expect(asked).toEqual([[{ point: 'reservoir.volts', value: 20, standardUncertainty: 0.01 }]]);
    answer();
    expect(told).toHaveLength(1);
    expect(told[0]).toMatchObject({ from: ['reservoir.volts'], other: 0.09 });
    expect(told[0]?.suspects.map(({ fault }) => fault)).toEqual(['overload', 'healthy']);
  });

  it('asks once for all that settled while it was weighing, and not for what is nothing new', () => {
    const { take, asked, answer } = staged();
    take(tick(0), settled('reservoir.volts', 20));
    take(tick(1), settled('lamps.volts', 12));
    take(tick(2), settled('logic.volts', 5));
    expect(asked).toHaveLength(1);
    answer();
    expect(asked[1]?.map(({ point }) => point)).toEqual(['reservoir.volts', 'lamps.volts', 'logic.volts']);
    answer();
    take(tick(3), settled('logic.volts', 5.001));
    expect(asked).toHaveLength(2);
  });

  it('forgets what was read before another load was named, and drops an answer that is about it', () => {
    const { take, asked, answer, told, loads } = staged();
    take(tick(0), settled('reservoir.volts', 20));
    take(named('full'));
    answer();
    expect(told).toEqual([]);
    take(tick(1), settled('lamps.volts', 12));
    expect(asked[1]?.map(({ point }) => point)).toEqual(['lamps.volts']);
    expect(loads).toEqual(['typical perhaps', 'full for certain']);
    answer();
    expect(told.map(({ from }) => from)).toEqual([['lamps.volts']]);
  });

  it('takes back what still stands some time after a load was named, for that load', () => {
    const { take, asked, answer, see } = staged();
    take(tick(0), settled('reservoir.volts', 20), settled('lamps.volts', 12));
    answer();
    take(named('full'));
    const place = beginWatch(WALKED).pointIndex['reservoir.volts']!;
    see({
      nowMs: 10_000,
      points: beginWatch(WALKED).points.map((point, at) =>
        at === place ? { ...point, channel: 0, settling: STANDING } : point,
      ),
    });
    take(tick(10_000));
    expect(asked.slice(1)).toEqual([[{ point: 'reservoir.volts', value: 20, standardUncertainty: 0.01 }]]);
  });

  it('weighs anew what a load was recognised by, and leaves open which load that is', () => {
    const { take, asked, answer, loads } = staged();
    take(tick(0), settled('reservoir.volts', 20));
    answer();
    take(named('typical'));
    answer();
    take(expectLoad('full'));
    expect(asked[2]?.map(({ point }) => point)).toEqual(['reservoir.volts']);
    expect(loads).toEqual(['typical perhaps', 'typical for certain', 'typical perhaps']);
  });

  it('weighs again for certain once the load that is on is named', () => {
    const { take, answer, loads } = staged();
    take(tick(0), settled('reservoir.volts', 20));
    answer();
    take(named('typical'));
    expect(loads).toEqual(['typical perhaps', 'typical for certain']);
  });

  it('keeps its readings from one whole step to the next under the same load', () => {
    const { take, asked, answer } = staged();
    take(expectLoad('typical', 'dummy-load'));
    take(tick(0), settled('reservoir.volts', 20));
    answer();
    take(expectLoad('typical', 'soak'));
    expect(asked[1]?.map(({ point }) => point)).toEqual(['reservoir.volts']);
    answer();
    take(expectLoad('full', 'lid'));
    take(tick(1), settled('lamps.volts', 12));
    expect(asked[2]?.map(({ point }) => point)).toEqual(['lamps.volts']);
  });

  it('drops an answer that comes after a step with another load has begun', () => {
    const { take, answer, told, asked } = staged();
    take(tick(0), settled('reservoir.volts', 20));
    take(expectLoad('full', 'soak'));
    answer();
    expect(told).toEqual([]);
    take(tick(1), settled('lamps.volts', 12));
    expect(asked).toHaveLength(2);
    answer();
    expect(told).toHaveLength(1);
  });

  it('weighs nothing while parts of the supply are missing', () => {
    const { take, asked } = staged();
    take(expectLoad('typical', 'raw'));
    take(tick(0), settled('reservoir.volts', 20));
    expect(asked).toEqual([]);
    take(expectLoad('typical', 'dummy-load'));
    take(tick(1), settled('reservoir.volts', 20));
    expect(asked).toHaveLength(1);
  });

  it('sharper bands are no reason to forget', () => {
    const { take, asked, answer } = staged();
    take(tick(0), settled('reservoir.volts', 20));
    answer();
    take(expectLoad('typical'));
    take(tick(1), settled('lamps.volts', 12));
    expect(asked[1]).toHaveLength(2);
  });
});

describe('a thread that fails', () => {
  it('is told and tried again later, twice as late each time, and watching goes on', () => {
    const { take, started, fail, clock, answer, told, troubles, isWell } = staged();
    take(tick(0), settled('reservoir.volts', 20));
    fail();
    expect(troubles).toEqual(['out of memory']);
    clock.advance(4_999);
    take(tick(1), settled('lamps.volts', 12));
    expect(started()).toBe(1);
    clock.advance(1);
    expect(started()).toBe(2);
    fail();
    clock.advance(9_999);
    expect(started()).toBe(2);
    clock.advance(1);
    expect(isWell()).toBe(false);
    answer();
    expect(told).toHaveLength(1);
    expect(isWell()).toBe(true);
  });

  it('is told, ended and begun anew when it gives no answer', () => {
    const { take, started, clock, troubles, answer, told, asked } = staged();
    take(tick(0), settled('reservoir.volts', 20));
    clock.advance(1_800_000);
    expect(troubles).toEqual(['it gives no answer']);
    clock.advance(5_000);
    expect(started()).toBe(2);
    answer();
    clock.advance(3_600_000);
    expect(troubles).toHaveLength(1);
    expect(told).toHaveLength(1);
    expect(asked[1]).toEqual(asked[0]);
  });

  it('is not tried again once the session has ended', () => {
    const { take, started, fail, clock, suspects } = staged();
    take(tick(0), settled('reservoir.volts', 20));
    fail();
    suspects.stop();
    clock.advance(600_000);
    take(tick(1), settled('lamps.volts', 12));
    expect(started()).toBe(1);
  });
});
