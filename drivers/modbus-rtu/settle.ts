import type { Talk } from './bus-talk.js';
import type { BusLine } from './bus-line.js';
import type { BusUnit } from './bus-unit.js';
import { hasRegisters, markerFor, notTooOld } from './pending.js';

/**
 * Tries once to get a unit out of doubt; true when it is.
 *
 * An answer doesn't say which registers it is about, so a late one could be taken for the next. A unit that was
 * anything but clean is therefore asked a marker: a question for coils or discrete inputs, whose answer (data, or
 * "illegal function") can't be taken for registers. A device answers in order, so once the marker is answered,
 * nothing older can come; pending.ts has the reckoning. A few simple devices leave markers unanswered. To find out, a
 * silent unit of which nothing is known is now and then asked for registers too (a knock). One that answers knocks
 * and no markers is trusted after the silence of a time-out: with such a device an answer that comes still later can't
 * be told from a fresh one of the same length.
 */
export function* settle(unit: BusUnit, line: BusLine): Talk<boolean> {
  const pending = notTooOld(unit.pending, line.nowMs());
  const hasForgotten = hasRegisters(unit.pending) && !hasRegisters(pending);
  unit.pending = pending;
  if (hasForgotten && unit.markers === 'heeded') unit.markers = 'unknown';
  unit.inDoubt = !(yield* isInStep(unit, line));
  unit.tries += 1;
  return !unit.inDoubt;
}

function* isInStep(unit: BusUnit, line: BusLine): Talk<boolean> {
  switch (unit.markers) {
    case 'new':
      return yield* getToKnow(unit, line);
    case 'heeded':
      return !hasRegisters(unit.pending) || (yield* mark(unit, line, unit.tries));
    case 'unknown':
    case 'ignored':
      return !hasRegisters(unit.pending) || (yield* meetStranger(unit, line));
  }
}

/**
 * On a new connection. Both functions are tried the first time, as a device may have but one of them. Each silence
 * ends the turn, so that other units are asked in between.
 */
function* getToKnow(unit: BusUnit, line: BusLine): Talk<boolean> {
  const isLastTry = unit.tries > 0 || unit.serial > 0;
  yield* mark(unit, line, unit.tries, 'first marker');
  const wasHeard = line.wasHeard(unit);
  if (unit.markers === 'new' && (wasHeard || isLastTry)) unit.markers = 'unknown';
  return wasHeard && !hasRegisters(unit.pending);
}

function* meetStranger(unit: BusUnit, line: BusLine): Talk<boolean> {
  const isKnock = unit.markers === 'ignored' || unit.tries % 2 === 1;
  if (isKnock) yield* knock(unit, line);
  else if (yield* mark(unit, line, 0)) return true;
  if (!line.wasHeard(unit)) return false;
  for (let turn = 0; turn < (unit.markers === 'ignored' ? 1 : 2); turn += 1) {
    if (yield* mark(unit, line, turn)) return true;
    if (line.wasHeard(unit)) return false;
  }
  unit.markers = 'ignored';
  unit.pending = [];
  return true;
}

/** Asks a marker; true when nothing but markers can be answered any more. */
function* mark(
  unit: BusUnit,
  line: BusLine,
  turn: number,
  manner: 'marker' | 'first marker' = 'marker',
): Talk<boolean> {
  unit.serial += 1;
  yield* line.ask(unit, markerFor(unit.unit, unit.pending, turn, unit.serial), manner);
  return !hasRegisters(unit.pending);
}

function* knock(unit: BusUnit, line: BusLine): Talk<void> {
  const [block] = unit.blocks;
  if (block !== undefined) yield* line.ask(unit, block.request, 'knock');
}
