/**
 * A link carries bytes between the daemon and one device. It opens by itself, keeps looking for a device that
 * went away, and says what happened and why. It knows nothing of what the bytes mean.
 */
export interface Link {
  /** What a person would call this link, for example `/dev/ttyUSB0 at 9600 baud`. */
  readonly name: string;

  /**
   * Starts opening, and re-opening after every loss, until `stop`. Call once.
   * Never throws: a port that is missing or busy is told as a `waiting` state with its reason.
   */
  start(listener: LinkListener): void;

  /**
   * Sends bytes. Rejects at once with a {@link LinkNotOpen} when the link isn't open: bytes are never kept
   * for the next connection.
   */
  write(bytes: Uint8Array): Promise<void>;

  /** Closes for good and stops looking. Resolves when the device is released. Safe to call twice. */
  stop(): Promise<void>;
}

export interface LinkListener {
  /** Called on every change of state, in order. */
  onState(state: LinkState): void;
  /**
   * Called with bytes as they arrive, only between an `open` or `back` state and the next other state.
   * The chunk belongs to the listener; boundaries between chunks mean nothing.
   */
  onBytes(chunk: Uint8Array): void;
}

/**
 * - `waiting`: not open; the link keeps trying. `why` says what stands in the way.
 * - `open`: open for the first time. Anything a parser held belongs to nobody: start a new one.
 * - `lost`: it was open and went away without our doing.
 * - `back`: open again after a loss, perhaps under another `path`. Start a new parser here too.
 * - `closed`: stopped by us. The last state.
 */
export type LinkState =
  | { readonly kind: 'waiting'; readonly why: string }
  | { readonly kind: 'open'; readonly path: string }
  | { readonly kind: 'lost'; readonly why: string }
  | { readonly kind: 'back'; readonly path: string }
  | { readonly kind: 'closed' };
