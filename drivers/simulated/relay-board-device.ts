import type { Clock } from '../clock.js';
import { lineReader } from '../lines/line-reader.js';
import { sendText, type ByteEnd, type SimulatedDevice } from './device.js';

export interface RelayBoardOptions {
  readonly end: ByteEnd;
  readonly clock: Clock;
  /** The contact opens when no keep-alive line has come for this long. */
  readonly deadMs: number;
  /** Called whenever the contact moves. */
  readonly onContact: (isClosed: boolean, because: ContactMoved) => void;
}

/** A line told it to, or no keep-alive line came within its dead-man time. */
export type ContactMoved = 'told' | 'no-keep-alive';

/** A board with one relay that is closed by a line and opens by itself once the keep-alive lines stop. */
export function relayBoardDevice({ end, clock, deadMs, onContact }: RelayBoardOptions): SimulatedDevice {
  let isClosed = false;
  let cancelDeadMan: () => void = () => undefined;

  function move(closed: boolean, because: ContactMoved): void {
    cancelDeadMan();
    if (closed) waitForNext();
    if (closed === isClosed) return;
    isClosed = closed;
    onContact(closed, because);
  }

  function waitForNext(): void {
    cancelDeadMan();
    cancelDeadMan = clock.after(deadMs, () => {
      move(false, 'no-keep-alive');
      tellState();
    });
  }

  function tellState(): void {
    sendText(end, isClosed ? 'CLOSED\r\n' : 'OPENED\r\n');
  }

  function hear(line: string): void {
    switch (line.trim()) {
      case 'CLOSE':
        return move(true, 'told');
      case 'OPEN':
        return move(false, 'told');
      case 'ALIVE':
        return isClosed ? waitForNext() : undefined;
      case 'STATE':
        return tellState();
      default:
        sendText(end, 'WHAT?\r\n');
    }
  }

  const reader = lineReader({ onLine: hear, onFault: () => sendText(end, 'WHAT?\r\n') });
  end.onBytes((bytes) => reader.push(bytes, clock.nowMs()));
  return { start: () => move(false, 'told'), stop: () => move(false, 'told') };
}
