import type { Link, LinkListener } from '../link.js';
import { LinkNotOpen } from './link-not-open.js';

/** The device's end of an in-memory link. */
export interface MemoryFarEnd {
  /** Hands bytes (copied) to the link's listener before it returns; nobody hears them while unplugged. */
  send(bytes: Uint8Array): void;
  /** Listens to what the link's owner writes. One listener: a second one replaces the first. */
  onBytes(listener: (bytes: Uint8Array) => void): void;
  /** Takes the device away. `why` is what the link's owner is told. */
  unplug(why: string): void;
  /** Brings it back, perhaps under another path. */
  plugIn(path: string): void;
}

export interface MemoryLinkPair {
  readonly link: Link;
  readonly far: MemoryFarEnd;
}

/**
 * A link without a device, for simulated instruments and tests. Plugged in from the start, under its own name.
 * Everything happens inside the call that causes it: no timers, no microtasks.
 */
export function memoryLinkPair(name: string): MemoryLinkPair {
  let path: string | null = name;
  let whyGone = '';
  let listener: LinkListener | null = null;
  let wasOpen = false;
  let stopped = false;
  let farListener: (bytes: Uint8Array) => void = () => undefined;

  function tellOpen(openPath: string): void {
    const kind = wasOpen ? 'back' : 'open';
    wasOpen = true;
    listener?.onState({ kind, path: openPath });
  }

  const link: Link = {
    name,
    start(given) {
      listener = given;
      if (path === null) given.onState({ kind: 'waiting', why: whyGone });
      else tellOpen(path);
    },
    write(bytes) {
      if (stopped || listener === null || path === null) return Promise.reject(new LinkNotOpen(name));
      farListener(new Uint8Array(bytes));
      return Promise.resolve();
    },
    stop() {
      if (!stopped) {
        stopped = true;
        listener?.onState({ kind: 'closed' });
      }
      return Promise.resolve();
    },
  };

  const far: MemoryFarEnd = {
    send(bytes) {
      if (!stopped && path !== null) listener?.onBytes(new Uint8Array(bytes));
    },
    onBytes(given) {
      farListener = given;
    },
    unplug(why) {
      if (path === null) return;
      path = null;
      whyGone = why;
      if (!stopped) listener?.onState({ kind: 'lost', why });
    },
    plugIn(newPath) {
      if (path !== null) return;
      path = newPath;
      if (!stopped && listener !== null) tellOpen(newPath);
    },
  };
  return { link, far };
}
