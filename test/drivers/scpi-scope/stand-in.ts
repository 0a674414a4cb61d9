import type { Capture } from '../../../drivers/driver.js';

/** The samples of a capture as a scope would send them, and what they are worth. */
export interface Waveform {
  readonly bytes: Uint8Array;
  readonly preamble: string;
  readonly means: Omit<Capture, 'atMs' | 'channel' | 'unit' | 'acquisition'>;
}

const POINTS = 12;

/** Ten-field waveforms in bytes, each other than all before: 40 mV a step about step 128, 1 ms apart from -6 ms. */
export function waveform(serial: number): Waveform {
  const bytes = Uint8Array.from({ length: POINTS }, (_, i) =>
    i === 0 ? 200 - (serial % 50) : 60 + ((serial * 7 + i * 11) % 130),
  );
  return {
    bytes,
    preamble: `+0,+0,+${POINTS},+1,+1.000E-03,-6.000E-03,+0,+4.000E-02,+${serial}.0E+00,+128`,
    means: {
      samples: bytes,
      scale: 0.04,
      offset: serial - 128 * 0.04,
      startSeconds: -0.006,
      stepSeconds: 0.001,
      coupling: 'dc',
      attenuation: 10,
    },
  };
}

/** `#` with the count of digits, the digits and the bytes (IEEE 488.2, 8.7.9). */
export function definiteBlock(bytes: Uint8Array): Uint8Array {
  const digits = String(bytes.length);
  return Buffer.concat([Buffer.from(`#${digits.length}${digits}`), bytes]);
}
