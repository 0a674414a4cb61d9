import type { Clock } from '../clock.js';
import type { Measurand } from '../driver.js';
import type { ByteEnd, SimulatedDevice } from './device.js';

export interface LcdDeviceOptions {
  readonly end: ByteEnd;
  readonly clock: Clock;
  /** What its dial stands at. */
  readonly measures: Measurand;
  /** What its probes see; null when they hang in the air. */
  readonly measure: () => number | null;
}

/** Such meters show two to four readings a second (common practice). */
const INTERVAL_MS = 400;
const FRAME_BYTES = 14;
const MOST_COUNTS = 3999;

/** A digit's bars, three bits in its first byte and four in its second. From memory, as the meter's sheet has them. */
const BARS: Readonly<Record<string, readonly [first: number, second: number]>> = {
  ' ': [0x0, 0x0],
  '0': [0x7, 0xd],
  '1': [0x0, 0x5],
  '2': [0x5, 0xb],
  '3': [0x1, 0xf],
  '4': [0x2, 0x7],
  '5': [0x3, 0xe],
  '6': [0x7, 0xe],
  '7': [0x1, 0x5],
  '8': [0x7, 0xf],
  '9': [0x3, 0xf],
  L: [0x6, 0x8],
};
type Bit = readonly [byte: number, bits: number];
const MINUS: Bit = [2, 0x8];
/** By how many decimals stand behind it. */
const POINTS: Readonly<Record<number, Bit>> = { 1: [8, 0x8], 2: [6, 0x8], 3: [4, 0x8] };
const KILO: Bit = [10, 0x2];
const MILLI: Bit = [11, 0x8];
const MEGA: Bit = [11, 0x2];
const AC: Bit = [1, 0x8];
const DC: Bit = [1, 0x4];
const VOLT: Bit = [13, 0x4];
const AMPERE: Bit = [13, 0x8];
const SYMBOLS: Readonly<Record<Measurand, readonly Bit[]>> = {
  'dc-volts': [DC, VOLT],
  'ac-volts': [AC, VOLT],
  'dc-amps': [DC, AMPERE],
  'ac-amps': [AC, AMPERE],
  ohms: [[12, 0x4]],
  frequency: [[13, 0x2]],
  temperature: [[14, 0x1]],
};

/** A handheld meter of 4000 counts that sends what its display shows; it hears nothing. */
export function lcdDevice({ end, clock, measures, measure }: LcdDeviceOptions): SimulatedDevice {
  let cancel: () => void = () => undefined;

  function say(): void {
    end.send(frameOf(measures, measure()));
    cancel = clock.after(INTERVAL_MS, say);
  }

  return {
    start: () => void (cancel = clock.after(INTERVAL_MS, say)),
    stop: () => cancel(),
  };
}

/** What the display shows of a value, in the smallest range that holds it; open probes show nought, open ohms `0L`. */
function frameOf(measures: Measurand, value: number | null): Uint8Array {
  const shown = value ?? (measures === 'ohms' ? Infinity : 0);
  const { text, bits } = rangeFor(measures, Math.abs(shown));
  const frame = Uint8Array.from({ length: FRAME_BYTES }, (_, at) => (at + 1) << 4);
  const light = ([byte, lit]: Bit): void => void (frame[byte - 1] = (frame[byte - 1] ?? 0) | lit);
  [...text].forEach((character, at) => {
    const [first, second] = BARS[character] ?? [0, 0];
    light([2 * at + 2, first]);
    light([2 * at + 3, second]);
  });
  [...SYMBOLS[measures], ...bits, ...(shown < 0 ? [MINUS] : [])].forEach(light);
  return frame;
}

function rangeFor(
  measures: Measurand,
  size: number,
): { readonly text: string; readonly bits: readonly Bit[] } {
  const prefixes: readonly (readonly [power: number, bits: readonly Bit[]])[] =
    measures === 'temperature'
      ? [[0, []]]
      : measures.endsWith('volts') || measures.endsWith('amps')
        ? [
            [-3, [MILLI]],
            [0, []],
          ]
        : [
            [0, []],
            [3, [KILO]],
            [6, [MEGA]],
          ];
  for (const [power, prefix] of prefixes) {
    for (const decimals of power === -3 ? [1] : [3, 2, 1, 0]) {
      const counts = Math.round((size / 10 ** power) * 10 ** decimals);
      const point = POINTS[decimals];
      if (counts <= MOST_COUNTS) {
        const text = String(counts)
          .padStart(Math.min(decimals + 1, 4), '0')
          .padStart(4, ' ');
        return { text, bits: [...prefix, ...(point === undefined ? [] : [point])] };
      }
    }
  }
  return { text: ' 0L ', bits: [] };
}
