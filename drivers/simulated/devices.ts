import type { BenchInstrument } from '../../daemon/design/bench.js';
import type { Clock } from '../clock.js';
import type { Measurand } from '../driver.js';
import type { ByteEnd, SimulatedDevice } from './device.js';
import { lineBoardDevice } from './line-board-device.js';
import { linePieces } from './line-pattern.js';
import { seededRandom } from './random.js';
import { scpiMeterDevice } from './scpi-meter-device.js';

/** What a simulated device is built from. */
export interface DeviceSurroundings {
  readonly instrument: BenchInstrument;
  readonly end: ByteEnd;
  readonly clock: Clock;
  readonly seed: number;
  /** What a probe at this channel sees right now; the channel's own test point, unless it was moved. */
  readonly see: (channel: string, measurand: Measurand) => number | null;
}

/** The simulated device behind each driver of a bench file. Add one by adding an entry. */
export const DEVICES: Readonly<Record<string, (around: DeviceSurroundings) => SimulatedDevice>> = {
  'scpi-meter': meter,
  'text-lines': lineBoard,
};

function meter({ instrument, end, clock, seed, see }: DeviceSurroundings): SimulatedDevice {
  const channels = Object.entries(instrument.channels);
  const random = seededRandom(seed);
  const channelOf = (measurand: Measurand) => channels.find(([, { measures }]) => measures === measurand);
  const gainErrors = new Map(
    channels.map(([, { measures, accuracy }]) => [
      measures,
      gainErrorWithin(accuracy?.percent ?? 0.02, seed),
    ]),
  );
  return scpiMeterDevice({
    end,
    clock,
    random,
    measure(measurand) {
      const channel = channelOf(measurand);
      return see(channel?.[0] ?? '', measurand);
    },
    gainError: (measurand) => gainErrors.get(measurand) ?? 0,
    digit: (measurand) => channelOf(measurand)?.[1].accuracy?.resolution,
  });
}

/** A meter stays well inside its promised accuracy: within half of it. Seed 0 has no error. */
function gainErrorWithin(percent: number, seed: number): number {
  return seed === 0 ? 0 : (percent / 100) * (seededRandom(seed).uniform() - 0.5);
}

function lineBoard({ instrument, end, clock, seed, see }: DeviceSurroundings): SimulatedDevice {
  return lineBoardDevice({
    end,
    clock,
    random: seededRandom(seed),
    patterns: linePatterns(instrument.options),
    intervalMs: intervalOf(instrument.options),
    measurandOf: (name) => instrument.channels[name]?.measures,
    measure: see,
  });
}

const USUAL_INTERVAL_MS = 1000;

function intervalOf(options: Readonly<Record<string, unknown>>): number {
  const { interval_ms } = options;
  return typeof interval_ms === 'number' && interval_ms > 0 ? interval_ms : USUAL_INTERVAL_MS;
}

/** The patterns in a text-lines instrument's options, `pattern` or `patterns`. */
export function linePatterns(options: Readonly<Record<string, unknown>>): string[] {
  const given: unknown[] = [options['pattern'], options['patterns']].flat();
  return given.filter((each) => typeof each === 'string');
}

/** Every channel of an instrument that sits on a test point by name: of its channels, or of its patterns' numbers. */
export function channelNames(instrument: BenchInstrument): string[] {
  const numbers = linePatterns(instrument.options)
    .flatMap(linePieces)
    .filter((piece) => piece.kind === 'number');
  return [...new Set([...Object.keys(instrument.channels), ...numbers.map(({ name }) => name)])];
}
