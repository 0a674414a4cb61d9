import type { ByteEnd } from './device.js';
import type { Outlet } from './outlet.js';

/** An instrument's socket: the device on one side, any number of outlets on the other. */
export interface InstrumentPort extends ByteEnd {
  /** Bytes from a program to the device. */
  receive(bytes: Uint8Array): void;
  attach(outlet: Outlet): void;
  detach(outlet: Outlet): void;
  unplug(): Promise<void>;
  plugIn(): Promise<void>;
}

export function instrumentPort(): InstrumentPort {
  const outlets = new Set<Outlet>();
  let isPlugged = true;
  let listener: (bytes: Uint8Array) => void = () => undefined;
  return {
    send(bytes) {
      if (!isPlugged) return;
      for (const outlet of outlets) outlet.send(bytes);
    },
    onBytes(given) {
      listener = given;
    },
    receive(bytes) {
      if (isPlugged) listener(bytes);
    },
    attach: (outlet) => void outlets.add(outlet),
    detach: (outlet) => void outlets.delete(outlet),
    async unplug() {
      isPlugged = false;
      await Promise.all([...outlets].map((outlet) => outlet.unplug()));
    },
    async plugIn() {
      await Promise.all([...outlets].map((outlet) => outlet.plugIn()));
      isPlugged = true;
    },
  };
}
