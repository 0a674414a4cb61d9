import type { Draft } from './draft.js';
import type { FaultEvent, InstrumentEvent } from './events.js';
import { markStale, settleInstrument } from './silence.js';
import { isConnected, type InstrumentState } from './state.js';

const NOT_SEEN = 'not seen since the start';

/** An instrument of which nothing has been heard. */
export function unseenInstrument(name: string, intervalMs: number | null): InstrumentState {
  return {
    name,
    state: 'waiting',
    why: NOT_SEEN,
    identity: null,
    path: null,
    intervalMs,
    connectedAtMs: null,
    faults: {},
    lastFault: null,
  };
}

/** An instrument changed state, or said what it is. */
export function takeInstrument(draft: Draft, event: InstrumentEvent): void {
  const at = instrumentPlace(draft, event.instrument);
  const before = draft.instruments[at] ?? unseenInstrument(event.instrument, null);
  const changed: InstrumentState = {
    ...before,
    state: event.state,
    why: event.why,
    identity: event.identity ?? before.identity,
    path: event.path ?? before.path,
  };
  const isFound = isConnected(changed) && !isConnected(before);
  const after = isFound ? { ...changed, connectedAtMs: draft.atMs } : changed;
  draft.setInstrument(at, after);
  if (event.state === 'lost' || event.state === 'closed') markAllStale(draft, event.instrument);
  settleInstrument(draft, after);
}

/** A reading of an instrument that was believed away is as good as a word that it is back. */
export function takeSignOfLife(draft: Draft, name: string): void {
  const at = draft.instruments.findIndex((instrument) => instrument.name === name);
  const before = draft.instruments[at];
  if (before === undefined || isConnected(before)) return;
  const after: InstrumentState = { ...before, state: 'reading', why: '', connectedAtMs: draft.atMs };
  draft.setInstrument(at, after);
  settleInstrument(draft, after);
}

/** Something that it sent was dropped, or it refused a command: counted and kept in words. */
export function takeFault(draft: Draft, event: FaultEvent): void {
  const at = instrumentPlace(draft, event.instrument);
  const before = draft.instruments[at] ?? unseenInstrument(event.instrument, null);
  const faults = { ...before.faults, [event.code]: event.count };
  draft.setInstrument(at, { ...before, faults, lastFault: event.detail });
}

/** Its place in the list, or the one after the last. */
function instrumentPlace(draft: Draft, name: string): number {
  const at = draft.instruments.findIndex((instrument) => instrument.name === name);
  return at < 0 ? draft.instruments.length : at;
}

function markAllStale(draft: Draft, instrument: string): void {
  draft.channels.forEach((channel, at) => {
    if (channel.instrument === instrument) markStale(draft, at);
  });
}
