import type { InstrumentEvent } from '../../../drivers/driver.js';
import { memoryLinkPair, type MemoryFarEnd } from '../../../drivers/links/memory.js';
import type { Output, OutputEvent } from '../../../drivers/outputs/output.js';
import { relayLines } from '../../../drivers/outputs/relay-lines.js';
import { relayBoardDevice } from '../../../drivers/simulated/relay-board-device.js';
import { manualClock, type ManualClock } from '../../manual-clock.js';

export interface RelayBench {
  readonly clock: ManualClock;
  readonly output: Output;
  readonly far: MemoryFarEnd;
  readonly events: InstrumentEvent[];
  /** Moves that nobody waited for. */
  readonly moves: ('on' | 'off')[];
  /** Whether the contact is closed, each time that it moved. */
  readonly contact: boolean[];
  /** Time passes while somebody keeps the output alive every 250 ms, as a session does. */
  readonly alive: (ms: number) => void;
}

/** A relay board that opens after three seconds without a keep-alive, and the driver that switches it. */
export function relayBench(options: unknown = {}): RelayBench {
  const clock = manualClock();
  const { link, far } = memoryLinkPair('relay board');
  const events: InstrumentEvent[] = [];
  const moves: ('on' | 'off')[] = [];
  const contact: boolean[] = [];
  const end = {
    send: (bytes: Uint8Array) => far.send(bytes),
    onBytes: (listener: (bytes: Uint8Array) => void) => far.onBytes(listener),
  };
  const onContact = (isClosed: boolean): void => void contact.push(isClosed);
  relayBoardDevice({ end, clock, deadMs: 3000, onContact }).start();
  const emit = (event: OutputEvent): void =>
    void (event.kind === 'position' ? moves.push(event.position) : events.push(event));
  const output = relayLines.start({ link, options, clock, emit });
  const alive = (ms: number): void => {
    for (let passed = 0; passed < ms; passed += 250) {
      clock.advance(250);
      output.keepAlive();
    }
  };
  return { clock, output, far, events, moves, contact, alive };
}
