/** Start bit, eight data bits, parity or a second stop bit, stop bit (MODBUS over Serial Line V1.02, 2.5.1). */
const BITS_PER_CHARACTER = 11;
const FASTEST_BAUD_TO_COUNT = 19_200;

/** How long `bytes` bytes are under way at `baud` bits per second, in ms. */
export function wireMs(bytes: number, baud: number): number {
  return (bytes * BITS_PER_CHARACTER * 1000) / baud;
}

/**
 * The least silence between two frames, in ms: 3.5 characters, and 1.75 ms whatever the speed above 19200 baud
 * (MODBUS over Serial Line V1.02, 2.5.1.1).
 */
export function silenceMs(baud: number): number {
  return baud > FASTEST_BAUD_TO_COUNT ? 1.75 : wireMs(3.5, baud);
}
