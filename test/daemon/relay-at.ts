import type { Clock } from '../../drivers/clock.js';
import type { MemoryFarEnd } from '../../drivers/links/memory.js';
import { instrumentPort } from '../../drivers/simulated/instrument-port.js';
import { relayBoardDevice } from '../../drivers/simulated/relay-board-device.js';

/** A relay board at the far end of a link that nobody unplugs. `onLine` hears what it is told. */
export function relayAt(
  far: MemoryFarEnd,
  { clock, deadMs, onLine }: { clock: Clock; deadMs: number; onLine: (line: string) => void },
): void {
  const port = instrumentPort();
  const gone = (): Promise<void> => Promise.resolve();
  port.attach({ send: (bytes) => far.send(bytes), unplug: gone, plugIn: gone });
  far.onBytes((bytes) => {
    onLine(Buffer.from(bytes).toString('ascii').trim());
    port.receive(bytes);
  });
  relayBoardDevice({ end: port, clock, deadMs, onContact: () => undefined }).start();
}
