import type { Clock } from './clock.js';
import type { FaultCode, InstrumentEvent } from './driver.js';
import { printable } from './printable.js';

/** Counts every fault and tells of it without letting a flood of faults become a flood of events. */
export interface FaultTeller {
  /**
   * Counts one fault. The first of its code is told at once, later ones at most once a second with the count
   * reached. `saying` is our words; `quoting` is what came, made printable only when it is told.
   */
  count(code: FaultCode, saying: string, quoting?: string): void;
  /** Counts one fault and tells it whatever else was told: for the few whose texts all matter. */
  tell(code: FaultCode, saying: string, quoting?: string): void;
  /** Tells nothing more. */
  stop(): void;
}

const LEAST_MS_BETWEEN = 1000;

interface Tally {
  count: number;
  toldCount: number;
  nextAtMs: number;
  saying: string;
  quoting: string | undefined;
  cancel: (() => void) | null;
}

export function faultTeller(clock: Clock, emit: (event: InstrumentEvent) => void): FaultTeller {
  const tallies = new Map<FaultCode, Tally>();
  let stopped = false;

  function tallyOf(code: FaultCode): Tally {
    let tally = tallies.get(code);
    if (tally === undefined) {
      tally = { count: 0, toldCount: 0, nextAtMs: -Infinity, saying: '', quoting: undefined, cancel: null };
      tallies.set(code, tally);
    }
    return tally;
  }

  function note(code: FaultCode, saying: string, quoting: string | undefined): Tally {
    const tally = tallyOf(code);
    tally.count += 1;
    tally.saying = saying;
    tally.quoting = quoting;
    return tally;
  }

  function emitNow(code: FaultCode, tally: Tally, atMs: number): void {
    tally.nextAtMs = atMs + LEAST_MS_BETWEEN;
    tally.toldCount = tally.count;
    emit({ kind: 'fault', atMs, code, count: tally.count, detail: detailOf(tally) });
  }

  function emitLater(code: FaultCode, tally: Tally, delayMs: number): void {
    tally.cancel = clock.after(delayMs, () => {
      tally.cancel = null;
      if (tally.count > tally.toldCount) emitNow(code, tally, clock.nowMs());
    });
  }

  return {
    count(code, saying, quoting) {
      if (stopped) return;
      const tally = note(code, saying, quoting);
      if (tally.cancel !== null) return;
      const atMs = clock.nowMs();
      if (atMs >= tally.nextAtMs) emitNow(code, tally, atMs);
      else emitLater(code, tally, tally.nextAtMs - atMs);
    },
    tell(code, saying, quoting) {
      if (!stopped) emitNow(code, note(code, saying, quoting), clock.nowMs());
    },
    stop() {
      stopped = true;
      for (const tally of tallies.values()) tally.cancel?.();
    },
  };
}

function detailOf({ saying, quoting }: Tally): string {
  return printable(quoting === undefined ? saying : `${saying}: "${printable(quoting, 100)}"`);
}
