import type { Driver, DriverContext, RunningInstrument } from '../drivers/driver.js';
import { printable } from '../drivers/printable.js';

const THROWN = 'driver-failed';

/** What isn't can't be judged, drawn or recorded. */
function allFinite(told: object): boolean {
  for (const value of Object.values(told)) {
    if (typeof value === 'number' && !Number.isFinite(value)) return false;
  }
  return true;
}

/** What a driver that has thrown is told as; see `FaultEvent` and `InstrumentEvent`. */
export interface DriverFailure {
  readonly fault: {
    readonly kind: 'fault';
    readonly atMs: number;
    readonly code: string;
    readonly detail: string;
  };
  readonly state: {
    readonly kind: 'state';
    readonly atMs: number;
    readonly state: 'lost';
    readonly why: string;
  };
}

export interface GuardedInstrument extends RunningInstrument {
  /** The driver threw this where nobody called it. Returns whether that is so: what it was only handed on is ours. */
  takeStray(problem: unknown): boolean;
}

/**
 * Starts a driver so that what it throws, at its start or whenever it is called, ends that instrument and nothing
 * else: nobody knows what it holds then, so it is not called again, nothing that it says counts, and its link is
 * closed. What is thrown by a promise or a timer of its own is to be handed to `takeStray`.
 */
export function startGuarded(
  driver: Driver,
  context: DriverContext,
  onFailure: (failure: DriverFailure) => void,
): GuardedInstrument {
  const { clock, emit, link, onCapture } = context;
  const ours = new Set<unknown>();
  let isOver = false;

  function fail(where: string, problem: unknown): void {
    isOver = true;
    const atMs = clock.nowMs();
    const thrown = problem instanceof Error ? problem.message : String(problem);
    const detail = printable(`the driver ${driver.name} failed ${where}: ${thrown}`);
    const why = printable(`${detail}; mend the driver or choose another, then start again`);
    onFailure({
      fault: { kind: 'fault', atMs, code: THROWN, detail },
      state: { kind: 'state', atMs, state: 'lost', why },
    });
    link.stop().catch(() => undefined); // it is given up either way
  }

  /** Calls into the driver. */
  function guarded<Given extends unknown[]>(where: string, call: (...given: Given) => void) {
    return (...given: Given): void => {
      if (isOver) return;
      try {
        call(...given);
      } catch (problem) {
        if (ours.has(problem)) throw problem;
        fail(where, problem);
      }
    };
  }

  /** Calls out of the driver: what is thrown there is no fault of the driver's. */
  function outward<Given extends object>(call: (given: Given) => void, isSound: (given: Given) => boolean) {
    return (given: Given): void => {
      if (isOver) return;
      if (!isSound(given)) return fail('with what it told', 'a number that is not finite');
      try {
        call(given);
      } catch (problem) {
        ours.add(problem);
        throw problem;
      }
    };
  }

  let running: RunningInstrument | null = null;
  guarded('at its start', () => {
    running = driver.start({
      ...context,
      clock: {
        nowMs: () => clock.nowMs(),
        after: (ms, action) => clock.after(ms, guarded('at its time', action)),
      },
      emit: outward(emit, allFinite),
      ...(onCapture !== undefined && { onCapture: outward(onCapture, allFinite) }),
      link: {
        name: link.name,
        start: (listener) =>
          link.start({
            onState: guarded('when its link changed', (state) => listener.onState(state)),
            onBytes: guarded('on bytes from the instrument', (chunk) => listener.onBytes(chunk)),
          }),
        write: (bytes) => link.write(bytes),
        stop: () => link.stop(),
      },
    });
  })();
  return {
    takeStray(problem) {
      if (ours.has(problem)) return false;
      if (!isOver) fail('in a promise or timer of its own', problem);
      return true;
    },
    async stop() {
      try {
        if (!isOver) await running?.stop();
      } catch (problem) {
        fail('when it was stopped', problem);
      }
      await link.stop();
    },
  };
}
