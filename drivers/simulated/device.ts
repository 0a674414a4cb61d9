/** The device's side of its plug. Bytes given to `send` while it is unplugged go nowhere. */
export interface ByteEnd {
  send(bytes: Uint8Array): void;
  /** One listener: a second one replaces the first. */
  onBytes(listener: (bytes: Uint8Array) => void): void;
}

/** A simulated instrument that speaks through its {@link ByteEnd}. */
export interface SimulatedDevice {
  /** Powers up afresh: what a device on USB power does when it is plugged in. Forgets everything it was told. */
  start(): void;
  /** Powers down: no timer is left. */
  stop(): void;
  /** Fills its error queue to the brim (SCPI-1999 volume 2, 21.8.1); only for devices that have one. */
  fillErrorQueue?(): void;
}

const encoder = new TextEncoder();

/** Sends text as bytes. */
export function sendText(end: ByteEnd, text: string): void {
  end.send(encoder.encode(text));
}
