import type { Clock } from '../clock.js';
import type { Measurand } from '../driver.js';
import { sendText } from './device.js';
import type { ByteEnd, SimulatedDevice } from './device.js';
import { linePieces } from './line-pattern.js';
import type { LinePiece } from './line-pattern.js';
import type { RandomSource } from './random.js';

export interface LineBoardOptions {
  readonly end: ByteEnd;
  readonly clock: Clock;
  readonly random: RandomSource;
  /** One line each, in turn at every interval: `T1: {lamps.case} C, T2: {logic.case} C`. */
  readonly patterns: readonly string[];
  readonly intervalMs: number;
  /** What each number of a pattern measures where no unit follows it. */
  measurandOf(name: string): Measurand | undefined;
  /** What the probe of this name sees right now; null where there is nothing to measure. */
  measure(name: string, measurand: Measurand): number | null;
}

/** What a small board makes of a quantity: decimals on the line, noise in the unit of the quantity. */
const SHOWN: Readonly<Record<Measurand, { readonly decimals: number; readonly noise: number }>> = {
  'dc-volts': { decimals: 2, noise: 0.003 },
  'ac-volts': { decimals: 3, noise: 0.0005 },
  'dc-amps': { decimals: 3, noise: 0.001 },
  'ac-amps': { decimals: 3, noise: 0.001 },
  ohms: { decimals: 1, noise: 0.05 },
  temperature: { decimals: 1, noise: 0.05 },
  frequency: { decimals: 1, noise: 0.02 },
};

/** A bead glued to a case follows it with this time constant, ms (common practice: one to seven seconds). */
const BEAD_LAG_MS = 3000;
/** The bead is looked at no more rarely than this, so that its lag holds at long intervals too. */
const BEAD_STEP_MS = 500;

/** A board that prints a line at an interval, whether anybody listens or not, with temperatures from lagging beads. */
export function lineBoardDevice(options: LineBoardOptions): SimulatedDevice {
  const lines = options.patterns.map(linePieces);
  const beads = new Map<string, number>();
  let lastBeadMs = 0;
  let nextLineMs = 0;
  let cancel: () => void = () => undefined;

  function temperatureNames(): string[] {
    const numbers = lines.flat().filter((piece) => piece.kind === 'number');
    return numbers.filter((piece) => measurandOf(piece) === 'temperature').map((piece) => piece.name);
  }

  function measurandOf(piece: LinePiece & { kind: 'number' }): Measurand {
    return piece.unit.measures ?? options.measurandOf(piece.name) ?? 'dc-volts';
  }

  function moveBeads(): void {
    const nowMs = options.clock.nowMs();
    const share = -Math.expm1(-(nowMs - lastBeadMs) / BEAD_LAG_MS);
    lastBeadMs = nowMs;
    for (const name of temperatureNames()) {
      const surface = options.measure(name, 'temperature');
      if (surface === null) continue;
      const bead = beads.get(name) ?? surface;
      beads.set(name, bead + (surface - bead) * share);
    }
  }

  function shown(piece: LinePiece): string {
    if (piece.kind === 'words') return piece.text;
    const measurand = measurandOf(piece);
    const value =
      measurand === 'temperature' ? beads.get(piece.name) : options.measure(piece.name, measurand);
    if (value === null || value === undefined) return 'OL';
    const { decimals, noise } = SHOWN[measurand];
    const digits = Math.max(0, decimals + piece.unit.power);
    return ((value + noise * options.random.normal()) * 10 ** -piece.unit.power).toFixed(digits);
  }

  function tick(): void {
    moveBeads();
    const nowMs = options.clock.nowMs();
    if (nowMs >= nextLineMs) {
      for (const line of lines) sendText(options.end, `${line.map(shown).join('')}\r\n`);
      // Late by more than a line, as after a sleep of the computer, it leaves out lines rather than catching up.
      const isLate = nowMs - nextLineMs > options.intervalMs;
      nextLineMs = (isLate ? nowMs : nextLineMs) + options.intervalMs;
    }
    waitForNext();
  }

  function waitForNext(): void {
    const waitMs = Math.min(BEAD_STEP_MS, nextLineMs - options.clock.nowMs());
    cancel = options.clock.after(Math.max(0, waitMs), tick);
  }

  return {
    start() {
      cancel();
      beads.clear();
      lastBeadMs = options.clock.nowMs();
      nextLineMs = lastBeadMs + options.intervalMs;
      waitForNext();
    },
    stop() {
      cancel();
    },
  };
}
