/** One way by which programs reach a simulated instrument: in memory, through a pseudo-terminal, over TCP. */
export interface Outlet {
  /** Hands the device's bytes on. What nobody takes is dropped, as on a cable with no program behind it. */
  send(bytes: Uint8Array): void;
  /** Takes the device away, as pulling the plug does. Resolves when it is gone. */
  unplug(): Promise<void>;
  /** Puts it back under the same address. Resolves when it can be opened. */
  plugIn(): Promise<void>;
}

/** No more than this is kept for a program that doesn't read; the rest is dropped. */
export const UNREAD_BYTES = 16384;
