/** What the link asks of the process that has the device open. */
export interface WriteMessage {
  readonly kind: 'write';
  readonly id: number;
  readonly bytes: Uint8Array;
}

/** What that process tells. */
export type DeviceMessage =
  | { readonly kind: 'open' }
  /** It didn't open; the last message. `code` is the system's, or `in-use`. */
  | { readonly kind: 'not-open'; readonly code: string; readonly why: string }
  | { readonly kind: 'bytes'; readonly bytes: Uint8Array }
  | { readonly kind: 'written'; readonly id: number }
  | { readonly kind: 'not-written'; readonly id: number; readonly why: string }
  /** The device went away; the last message. */
  | { readonly kind: 'gone'; readonly code: string };
