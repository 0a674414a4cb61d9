import type { Clock } from '../clock.js';
import type { ByteEnd } from './device.js';
import type { RandomSource } from './random.js';

/** How a device goes wrong, or its bytes on their way. Each is off unless said. */
export interface Misbehaviour {
  /** Everything that it says comes this much late, ms. */
  readonly latencyMs?: number;
  /** And up to this much more, drawn anew each time; the order stays. */
  readonly jitterMs?: number;
  /** The share, 0 to 1, of what it says that breaks off somewhere. */
  readonly tornShare?: number;
  /** The share, 0 to 1, in which one bit is wrong. */
  readonly flippedShare?: number;
  /** Nothing that it says arrives. */
  readonly isStuck?: boolean;
  /** Its error queue is full at this moment, an overflow last. It is read empty like any other. */
  readonly hasFullErrorQueue?: boolean;
}

export interface MisbehavingEnd extends ByteEnd {
  /** From now on, in place of what was said before. */
  misbehave(how: Misbehaviour): void;
  /** Forgets what is still under way, as a pulled plug does. */
  forget(): void;
}

/** Puts misbehaviour between a device and its plug; none until told. */
export function misbehavingEnd(end: ByteEnd, clock: Clock, random: RandomSource): MisbehavingEnd {
  let how: Misbehaviour = {};
  let lastDueMs = 0;
  const underWay = new Set<() => void>();

  function later(bytes: Uint8Array, delayMs: number): void {
    lastDueMs = Math.max(lastDueMs, clock.nowMs() + delayMs);
    const cancel = clock.after(lastDueMs - clock.nowMs(), () => {
      underWay.delete(cancel);
      end.send(bytes);
    });
    underWay.add(cancel);
  }

  return {
    send(bytes) {
      if (how.isStuck === true) return;
      const torn = random.uniform() < (how.tornShare ?? 0);
      const kept = torn ? bytes.subarray(0, Math.floor(random.uniform() * bytes.length)) : bytes;
      const sent = random.uniform() < (how.flippedShare ?? 0) ? withOneBitWrong(kept, random) : kept;
      const delayMs = (how.latencyMs ?? 0) + random.uniform() * (how.jitterMs ?? 0);
      if (delayMs === 0 && underWay.size === 0) end.send(sent);
      else later(new Uint8Array(sent), delayMs);
    },
    onBytes: (listener) => end.onBytes(listener),
    misbehave: (given) => void (how = given),
    forget() {
      for (const cancel of underWay) cancel();
      underWay.clear();
    },
  };
}

function withOneBitWrong(bytes: Uint8Array, random: RandomSource): Uint8Array {
  const wrong = new Uint8Array(bytes);
  const at = Math.floor(random.uniform() * wrong.length);
  wrong[at] = (wrong[at] ?? 0) ^ (1 << Math.floor(random.uniform() * 8));
  return wrong;
}
