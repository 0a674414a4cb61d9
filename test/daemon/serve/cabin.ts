import { ALONE_BATCH_MS, createHub, type Hub, type HubOptions } from '../../../daemon/serve/hub.js';
import type { WatchEvent } from '../../../daemon/watch/events.js';
import type { WatchPlan } from '../../../daemon/watch/plan.js';
import type { WatchState } from '../../../daemon/watch/state.js';
import { beginWatch, watch } from '../../../daemon/watch/watch.js';
import { manualClock, type ManualClock } from '../../manual-clock.js';

/** Two test points of a model-railway signal cabin's supply, as far as serving cares. */
export const PLAN: WatchPlan = {
  prediction: {
    points: {
      'logic.volts': {
        id: 'logic.volts',
        label: 'logic rail volts',
        unit: 'V',
        nominal: 5,
        low: 4.8,
        typical: 5,
        high: 5.2,
        worst: { low: 4.8, high: 5.2 },
        widthFrom: [],
        limits: [{ kind: 'damage', side: 'high', value: 5.5, why: 'what the logic load survives' }],
        formula: 'the set volts of a fixed regulator, 4 %',
      },
      'logic.case': {
        id: 'logic.case',
        label: 'logic regulator case',
        unit: 'degC',
        nominal: 52,
        low: 45,
        typical: 52,
        high: 61,
        worst: { low: 45, high: 61 },
        widthFrom: [],
        limits: [{ kind: 'rating', side: 'high', value: 100, why: 'what the regulator stands' }],
        formula: 'ambient + power x thermal resistance',
      },
    },
    parts: {},
    advice: [],
    assumed: [],
    load: 'typical',
    seed: 7,
  },
  channels: [
    { instrument: 'meter', channel: 'volts', intervalMs: 500 },
    { instrument: 'thermometer', channel: 't1', intervalMs: 1000 },
  ],
};

export interface Cabin {
  readonly hub: Hub;
  readonly clock: ManualClock;
  /** Runs an event through the core and publishes what follows, as the daemon does. */
  happen(event: WatchEvent): void;
  /** The same, and lets the pages hear of it. */
  tell(event: WatchEvent): void;
  state(): WatchState;
}

/** A session in the cabin whose clock stands still until the test moves it; both probes are on. */
export function cabin(options: Partial<HubOptions> = {}): Cabin {
  const clock = manualClock();
  let state = beginWatch(PLAN);
  const hub = createHub({
    state,
    session: {
      design: 'signal cabin',
      bench: 'kitchen table',
      load: 'typical',
      startedAt: '2026-11-25T08:39:12.345+01:00',
      speed: 1,
    },
    supply: { rectifier: 'bridge', blocks: [] },
    instruments: [
      { name: 'meter', driver: 'scpi-meter', link: '/dev/ttyUSB0 at 9600 baud' },
      { name: 'thermometer', driver: 'text-lines', link: '/dev/ttyACM0 at 115200 baud' },
    ],
    recorderFile: () => null,
    demo: () => null,
    onCommand: () => null,
    wall: clock,
    ...options,
  });
  const happen = (event: WatchEvent): void => {
    const after = watch(state, event);
    state = after.state;
    hub.publish(event, state, after.effects);
  };
  const tell = (event: WatchEvent): void => {
    happen(event);
    clock.advance(ALONE_BATCH_MS);
  };
  happen({ kind: 'probe', atMs: 0, instrument: 'meter', channel: 'volts', point: 'logic.volts' });
  tell({ kind: 'probe', atMs: 0, instrument: 'thermometer', channel: 't1', point: 'logic.case' });
  return { hub, clock, happen, tell, state: () => state };
}

export function volts(atMs: number, value: number): WatchEvent {
  return { kind: 'reading', atMs, instrument: 'meter', channel: 'volts', value, unit: 'V' };
}

export function caseTemperature(atMs: number, value: number): WatchEvent {
  return { kind: 'reading', atMs, instrument: 'thermometer', channel: 't1', value, unit: 'degC' };
}

export function tick(atMs: number): WatchEvent {
  return { kind: 'tick', atMs };
}
