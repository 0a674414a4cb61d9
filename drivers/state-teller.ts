import type { Clock } from './clock.js';
import type { InstrumentEvent, InstrumentState } from './driver.js';
import type { LinkState } from './link.js';
import { printable } from './printable.js';

/** Turns a link's states, and what a driver makes of the bytes, into the instrument's states. */
export interface StateTeller {
  link(state: LinkState): void;
  /** A good reading came: tells `reading` unless that is the state already. `why` says more than that one came. */
  reading(why?: () => string): void;
  /** Connected, yet nothing good comes: tells `open` with the reason if the state was `reading`. */
  notReading(why: string): void;
}

export function stateTeller(clock: Clock, emit: (event: InstrumentEvent) => void): StateTeller {
  let current: InstrumentState | null = null;

  function tell(state: InstrumentState, why: string, path?: string): void {
    current = state;
    const event = { kind: 'state', atMs: clock.nowMs(), state, why: printable(why) } as const;
    emit(path === undefined ? event : { ...event, path });
  }

  return {
    link(state) {
      switch (state.kind) {
        case 'waiting':
        case 'lost':
          return tell(state.kind, state.why);
        case 'open':
          return tell('open', `connected at ${state.path}`, state.path);
        case 'back':
          return tell('open', `connected again at ${state.path}`, state.path);
        case 'closed':
          return tell('closed', 'stopped');
      }
    },
    reading(why) {
      if (current !== 'reading') tell('reading', why?.() ?? 'readings come in');
    },
    notReading(why) {
      if (current === 'reading') tell('open', why);
    },
  };
}
