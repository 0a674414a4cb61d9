import { performance } from 'node:perf_hooks';
import { NOT_FOLLOWED } from '../../daemon/watch/forecast/follow-state.js';
import { followTemperature } from '../../daemon/watch/forecast/follow.js';
import { NOTHING_KNOWN } from '../../daemon/watch/forecast/prior.js';
import type { WatchEvent } from '../../daemon/watch/events.js';
import { beginWatch, watch } from '../../daemon/watch/watch.js';
import { PLAN, poweredCabin } from '../daemon/watch/cabin.js';
import { normalNoise } from '../daemon/watch/random.js';

export interface WatchRow {
  readonly name: string;
  readonly readingsPerSecond: number;
  /** Rate of the core over the rate of JSON.parse on the same readings, taken in turns in the same run. */
  readonly ratioToParse: number;
}

const ROUNDS = 7;
const READINGS = 100_000;

/** How many readings a second go through the core: the median of seven rounds, parse and core in turns. */
export function rows(): readonly (WatchRow | ForecastRow)[] {
  return [
    measure('four channels, all well', 5),
    measure('four channels, one alarm active', 5.6),
    forecastRow(),
  ];
}

function measure(name: string, logicVolts: number): WatchRow {
  const lines = readingLines(logicVolts);
  const parseRates: number[] = [];
  const watchRates: number[] = [];
  for (let round = 0; round < ROUNDS; round += 1) {
    const events: WatchEvent[] = [];
    parseRates.push(rate(() => lines.forEach((line) => events.push(JSON.parse(line) as WatchEvent))));
    watchRates.push(rate(() => runThrough(events)));
  }
  const readingsPerSecond = median(watchRates);
  return { name, readingsPerSecond, ratioToParse: readingsPerSecond / median(parseRates) };
}

function runThrough(events: readonly WatchEvent[]): void {
  let { state } = poweredCabin();
  for (const event of events) state = watch(state, event).state;
  if (state.nowMs === beginWatch(PLAN).nowMs) throw new Error('nothing went through the core');
}

/** What following one temperature costs a second of watched time, at one reading a second. */
export interface ForecastRow {
  readonly name: string;
  readonly microsecondsPerChannelSecond: number;
  /** That cost over the one of JSON.parse of a reading, taken in turns in the same run. */
  readonly ratioToParse: number;
}

const WATCHED_S = 4000;

/** A part on a heatsink from rest until it has settled. */
function forecastRow(): ForecastRow {
  const noise = normalNoise(2);
  const lines = Array.from({ length: WATCHED_S }, (_, second) => {
    const celsius = 25 + 60 * (1 - Math.exp(-Math.max(0, second - 20) / 500)) + 0.1 * noise();
    const value = Math.round(10 * celsius) / 10;
    return JSON.stringify({
      kind: 'reading',
      atMs: 1000 * second,
      instrument: 'probes',
      channel: 't1',
      value,
      unit: 'degC',
    });
  });
  const parsing: number[] = [];
  const following: number[] = [];
  for (let round = 0; round < ROUNDS; round += 1) {
    const readings: { readonly atMs: number; readonly value: number }[] = [];
    parsing.push(milliseconds(() => lines.forEach((line) => readings.push(JSON.parse(line) as never))));
    following.push(milliseconds(() => follow(readings)));
  }
  const cost = (1000 * median(following)) / WATCHED_S;
  return {
    name: 'forecast of one temperature',
    microsecondsPerChannelSecond: cost,
    ratioToParse: median(following) / median(parsing),
  };
}

function follow(readings: readonly { readonly atMs: number; readonly value: number }[]): void {
  const context = { prior: NOTHING_KNOWN, limits: [85, 100], resolutionK: 0.1 };
  let state = NOT_FOLLOWED;
  for (const { atMs, value } of readings) state = followTemperature(state, atMs, value, context).state;
  if (state.warming === null) throw new Error('nothing was followed');
}

function milliseconds(work: () => void): number {
  const startedMs = performance.now();
  work();
  return performance.now() - startedMs;
}

function readingLines(logicVolts: number): readonly string[] {
  const noise = normalNoise(1);
  const sources = [
    ['meter', 'volts', logicVolts, 'V'],
    ['probes', 't1', 55, 'degC'],
    ['probes', 't2', 22, 'degC'],
    ['board', 'raw', 20, 'V'],
  ] as const;
  return Array.from({ length: READINGS }, (_, at) => {
    const [instrument, channel, middle, unit] = sources[at % sources.length] ?? sources[0];
    const value = Math.round((middle + 0.01 * noise()) * 1000) / 1000;
    return JSON.stringify({ kind: 'reading', atMs: at * 50, instrument, channel, value, unit });
  });
}

function rate(work: () => void): number {
  const startedMs = performance.now();
  work();
  return (READINGS / (performance.now() - startedMs)) * 1000;
}

function median(values: readonly number[]): number {
  return [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)] ?? NaN;
}
