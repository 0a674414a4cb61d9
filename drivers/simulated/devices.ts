import type { BenchInstrument } from '../../daemon/design/bench.js';
import type { Clock } from '../clock.js';
import type { Measurand } from '../driver.js';
import { registersOf } from '../modbus-rtu/register-map.js';
import type { ByteEnd, SimulatedDevice } from './device.js';
import { lcdDevice } from './lcd-device.js';
import { lineBoardDevice } from './line-board-device.js';
import { linePieces } from './line-pattern.js';
import { modbusDevice } from './modbus-device.js';
import { seededRandom } from './random.js';
import { scpiMeterDevice } from './scpi-meter-device.js';
import { scpiScopeDevice } from './scpi-scope-device.js';
import type { CycleWave } from './supply.js';

/** What a simulated device is built from. */
export interface DeviceSurroundings {
  readonly instrument: BenchInstrument;
  readonly end: ByteEnd;
  readonly clock: Clock;
  readonly seed: number;
  /** What a probe at this channel sees right now; the channel's own test point, unless it was moved. */
  readonly see: (channel: string, measurand: Measurand) => number | null;
  /** The waveform at this channel's probe; null where a probe hangs in the air. */
  readonly watchWave: (channel: string) => CycleWave | null;
}

/** The simulated device behind each driver of a bench file. Add one by adding an entry. */
export const DEVICES: Readonly<Record<string, (around: DeviceSurroundings) => SimulatedDevice>> = {
  'scpi-meter': meter,
  'scpi-scope': scope,
  'text-lines': lineBoard,
  'modbus-rtu': modbusLine,
  'lcd-frames': lcdMeter,
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

function scope({ instrument, end, clock, seed, watchWave }: DeviceSurroundings): SimulatedDevice {
  const inputs = scopeInputs(instrument.options);
  return scpiScopeDevice({
    end,
    clock,
    random: seededRandom(seed),
    speaks: instrument.options['dialect'] === 'trace-dif' ? 'trace-dif' : 'ten-field',
    watch: (input) => {
      const channel = inputs.find(([, number]) => number === input)?.[0];
      return channel === undefined ? null : watchWave(channel);
    },
  });
}

/** Channels and input numbers in a scope's options. */
function scopeInputs(options: Readonly<Record<string, unknown>>): [channel: string, input: number][] {
  const { inputs } = options;
  if (typeof inputs !== 'object' || inputs === null) return [];
  return Object.entries(inputs).map(([channel, written]: [string, unknown]) => {
    const isGroup = typeof written === 'object' && written !== null && 'input' in written;
    return [channel, Number(isGroup ? written.input : written)];
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

function modbusLine({ instrument, end, clock, see }: DeviceSurroundings): SimulatedDevice {
  return modbusDevice({ end, clock, registers: registersOf(instrument.options), measure: see });
}

/** Its dial stands at what its first channel measures. */
function lcdMeter({ instrument, end, clock, see }: DeviceSurroundings): SimulatedDevice {
  const [name, channel] = Object.entries(instrument.channels)[0] ?? [''];
  const measures = channel?.measures ?? 'dc-volts';
  return lcdDevice({ end, clock, measures, measure: () => see(name, measures) });
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

/** Every channel of an instrument that sits on a test point by name: its own, its patterns' numbers, inputs, registers. */
export function channelNames(instrument: BenchInstrument): string[] {
  const numbers = linePatterns(instrument.options)
    .flatMap(linePieces)
    .filter((piece) => piece.kind === 'number');
  const inputs = scopeInputs(instrument.options).map(([channel]) => channel);
  const registers = registersOf(instrument.options).map(({ name }) => name);
  const own = Object.keys(instrument.channels);
  return [...new Set([...own, ...numbers.map(({ name }) => name), ...inputs, ...registers])];
}
