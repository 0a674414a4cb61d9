import { knownAt } from './known-value.js';
import { Draft } from './draft.js';
import type { WatchEvent } from './events.js';
import { watch } from './watch.js';
import type { WatchState } from './state.js';

/** So often, the machine has made ready what it runs (measured). */
const TIMES = 20;

/**
 * Goes through what a rail that follows its input would bring about, and forgets it, so that the first real one isn't
 * the slowest. Nothing comes of it: the state is left as it was.
 */
export function rehearseDrop(state: WatchState): void {
  const events = (state.plan.supply?.rails ?? []).flatMap(({ name, from }): readonly WatchEvent[] => {
    const point = state.points[state.pointIndex[`${name}.volts`] ?? -1];
    const channel = state.channels[point?.channel ?? -1];
    const value = knownAt(new Draft(state, state.nowMs), `${from}.volts`)?.typical;
    if (channel === undefined || value === undefined) return [];
    const { instrument, channel: of } = channel;
    return [{ kind: 'reading', atMs: state.nowMs, instrument, channel: of, value, unit: 'V' }];
  });
  for (let time = 0; time < TIMES; time += 1) for (const event of events) watch(state, event);
}
