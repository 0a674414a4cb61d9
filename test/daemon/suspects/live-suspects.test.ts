import { describe, expect, it } from 'vitest';
import type { Effect } from '../../../daemon/watch/effects.js';
import type { SuspectsEvent, WatchEvent } from '../../../daemon/watch/events.js';
import type { Judgement } from '../../../daemon/watch/suspects/judge.js';
import type { Settled } from '../../../daemon/watch/suspects/settled.js';
import { beginWatch } from '../../../daemon/watch/watch.js';
import { LiveSuspects } from '../../../daemon/suspects/live-suspects.js';
import type { StartSuspectThread, SuspectTask } from '../../../daemon/suspects/suspect-thread.js';
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
};

const WALKED = {
  ...PLAN,
  procedure: procedureOf(cabin(), { load: 'full', lamp: null, hasCutOff: false, canMeasure: () => true }),
};

/** Suspects whose thread answers when the test says so. */
function staged() {
  const clock = manualClock();
  const told: SuspectsEvent[] = [];
  const health: (string | null)[] = [];
  const asked: (readonly Settled[])[] = [];
  const tasks: SuspectTask[] = [];
  let answer: () => void = () => undefined;
  let fail: () => void = () => undefined;
  let stopped = 0;
  const startThread: StartSuspectThread = (task, { onJudged, onFailed }) => {
    tasks.push(task);
    answer = () => onJudged(JUDGEMENT);
    fail = () => onFailed('out of memory');
    return { weigh: (readings) => asked.push(readings), stop: () => (stopped += 1) };
  };
  const suspects = new LiveSuspects({
    design: cabin(),
    load: 'typical',
    seed: 1,
    startThread,
    clock,
    emit: (event) => told.push(event),
    onHealth: (why) => health.push(why),
  });
  const state = beginWatch(WALKED);
  return {
    clock,
    told,
    health,
    asked,
    tasks,
    suspects,
    stopped: () => stopped,
    answer: () => answer(),
    fail: () => fail(),
    take: (event: WatchEvent, ...effects: readonly Effect[]) => suspects.take(event, state, effects),
  };
}

describe('weighing what has settled', () => {
  it('begins no thread before anything has settled, and tells what is worth telling', () => {
    const { take, tasks, asked, answer, told } = staged();
    take(tick(0));
    expect(tasks).toEqual([]);
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

  it('forgets what was read before the load changed, and drops an answer that is about it', () => {
    const { take, asked, answer, told, tasks, stopped } = staged();
    take(tick(0), settled('reservoir.volts', 20));
    take(expectLoad('full'));
    take(tick(1), settled('lamps.volts', 12));
    expect(stopped()).toBe(1);
    expect(tasks.map(({ load }) => load)).toEqual(['typical', 'full']);
    expect(asked[1]?.map(({ point }) => point)).toEqual(['lamps.volts']);
    answer();
    expect(told.map(({ from }) => from)).toEqual([['lamps.volts']]);
  });

  it('drops an answer that comes after the next step has begun', () => {
    const { take, answer, told, asked } = staged();
    take(tick(0), settled('reservoir.volts', 20));
    take(expectLoad('typical', 'soak'));
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
  it('is tried again later, twice as late each time, and watching goes on', () => {
    const { take, tasks, fail, clock, answer, told, health } = staged();
    take(tick(0), settled('reservoir.volts', 20));
    fail();
    clock.advance(4_999);
    expect(tasks).toHaveLength(1);
    clock.advance(1);
    expect(tasks).toHaveLength(2);
    expect(health).toEqual(['out of memory']);
    fail();
    clock.advance(9_999);
    expect(tasks).toHaveLength(2);
    clock.advance(1);
    answer();
    expect(told).toHaveLength(1);
    expect(health.at(-1)).toBeNull();
  });

  it('is not tried again once the session has ended', () => {
    const { take, tasks, fail, clock, suspects } = staged();
    take(tick(0), settled('reservoir.volts', 20));
    fail();
    suspects.stop();
    clock.advance(600_000);
    take(tick(1), settled('lamps.volts', 12));
    expect(tasks).toHaveLength(1);
  });
});
