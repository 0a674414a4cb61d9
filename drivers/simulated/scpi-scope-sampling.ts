import type { RandomSource } from './random.js';
import { waveAt, type CycleWave } from './supply.js';

export type ScopeCoupling = 'DC' | 'AC' | 'GND';

/** How one input of a simulated scope is set. */
export interface InputSettings {
  coupling: ScopeCoupling;
  attenuation: number;
  /** Volts a division; null lets the scope choose. */
  scale: number | null;
  /** Volts in the middle of the screen; null lets the scope choose. */
  middle: number | null;
}

/** What an input has sampled. A code counts from 0; code `steps / 2` is in the middle of the screen. */
export interface Sampled {
  readonly codes: Uint16Array;
  readonly steps: number;
  readonly voltsAStep: number;
  readonly middleVolts: number;
}

export interface TimeBase {
  readonly points: number;
  readonly stepSeconds: number;
}

const DIVISIONS = 8;
/** How much of the screen a waveform takes on the scale that the scope chooses. */
const DIVISIONS_USED = 6;
const SMALLEST_SCALE = 1e-3;

/** Where in its cycle a wave rises through its middle, 0 to 1; null for one too flat to trigger on. */
export function triggerPhase({ volts }: CycleWave): number | null {
  const lowest = Math.min(...volts);
  const highest = Math.max(...volts);
  const middle = (lowest + highest) / 2;
  if (highest - lowest < SMALLEST_SCALE) return null;
  const at = volts.findIndex((each, i) => each >= middle && (volts.at(i - 1) ?? each) < middle);
  return at < 0 ? null : at / volts.length;
}

/** Samples a wave with the trigger in the middle of the screen. `phase` is where in its cycle the trigger was. */
export function sample(
  wave: CycleWave | null,
  phase: number,
  base: TimeBase,
  settings: InputSettings,
  steps: number,
  random: RandomSource,
): Sampled {
  const seen = seenWave(wave, settings.coupling);
  const { scale, middle } = screenFor(seen.volts, settings);
  const voltsAStep = (scale * DIVISIONS) / steps;
  const codes = new Uint16Array(base.points);
  for (let i = 0; i < base.points; i += 1) {
    const value = waveAt(seen, phase + (i - base.points / 2) * base.stepSeconds * seen.hertz);
    const code = Math.round((value - middle) / voltsAStep + 0.3 * random.normal()) + steps / 2;
    codes[i] = Math.max(0, Math.min(steps - 1, code));
  }
  return { codes, steps, voltsAStep, middleVolts: middle };
}

function seenWave(wave: CycleWave | null, coupling: ScopeCoupling): CycleWave {
  if (wave === null || coupling === 'GND') return { hertz: 0, volts: new Float64Array(1), driftVolts: 0 };
  if (coupling === 'DC') return wave;
  const mean = wave.volts.reduce((sum, each) => sum + each, 0) / wave.volts.length;
  return { ...wave, volts: wave.volts.map((each) => each - mean) };
}

function screenFor(volts: Float64Array, settings: InputSettings): { scale: number; middle: number } {
  const lowest = Math.min(...volts);
  const highest = Math.max(...volts);
  const wanted = Math.max(SMALLEST_SCALE, (highest - lowest) / DIVISIONS_USED);
  return { scale: settings.scale ?? roundUp(wanted), middle: settings.middle ?? (lowest + highest) / 2 };
}

/** The next of 1, 2, 5, 10 times a power of ten, as scopes have their scales. */
function roundUp(value: number): number {
  const decade = 10 ** Math.floor(Math.log10(value));
  return ([1, 2, 5].find((each) => each * decade >= value * (1 - 1e-9)) ?? 10) * decade;
}

/** The codes as bytes: `bits` 8 or 16, two's complement about the middle where signed. */
export function codeBytes(
  sampled: Sampled,
  bits: 8 | 16,
  signed: boolean,
  littleEndian: boolean,
): Uint8Array {
  const { codes, steps } = sampled;
  const shift = signed ? steps / 2 : 0;
  if (bits === 8) return Uint8Array.from(codes, (code) => (code - shift) & 0xff);
  const bytes = new Uint8Array(2 * codes.length);
  const view = new DataView(bytes.buffer);
  codes.forEach((code, i) => view.setUint16(2 * i, (code - shift) & 0xffff, littleEndian));
  return bytes;
}
