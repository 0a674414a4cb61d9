import type { ChannelSpec, Driver, DriverContext, Measurand, RunningInstrument } from '../driver.js';
import { faultTeller } from '../fault-teller.js';
import { numberBetween, numberOption, optionOf, optionProblems } from '../options.js';
import { readingMaker } from '../reading-of.js';
import { stateTeller } from '../state-teller.js';
import { readDisplay, type Shown } from './display.js';
import { FrameReader } from './frame-reader.js';
import { FOURTEEN_BYTE } from './frames/fourteen-byte.js';
import type { DisplayLayout } from './layout.js';

const DEFAULT_INTERVAL_MS = 1000;
const DEFAULT_LAYOUT = 'fourteen-byte';
const MOST_FREE_SYMBOLS = 4;

/** Every layout under the word that the bench file uses for it. A new one adds one line here. */
const LAYOUTS: Readonly<Record<string, DisplayLayout>> = { 'fourteen-byte': FOURTEEN_BYTE };

const RULES = {
  layout: {
    allowed: Object.keys(LAYOUTS).join(', '),
    accepts: (value: unknown) => typeof value === 'string' && Object.hasOwn(LAYOUTS, value),
  },
  celsius_symbol: {
    allowed: `a whole number from 1 to ${MOST_FREE_SYMBOLS}: the symbol of the maker's own that this meter lights for degrees C`,
    accepts: (value: unknown) =>
      Number.isInteger(value) && (value as number) >= 1 && (value as number) <= MOST_FREE_SYMBOLS,
  },
  interval_ms: numberBetween(100, 3_600_000, 'ms'),
};

/** Handheld meters that send what their display shows, bar by bar. They only speak; nothing is sent to them. */
export const lcdFrames: Driver = {
  name: 'lcd-frames',
  reads: 'handheld meters with a serial or opto cable that send what their display shows, bar by bar',
  channelsOf: () => [],
  checkOptions: (options) => optionProblems(options, RULES),
  intervalMs: (options) => numberOption(options, 'interval_ms', DEFAULT_INTERVAL_MS),
  start,
};

function start({ channels, clock, emit, link, options }: DriverContext): RunningInstrument {
  const faults = faultTeller(clock, emit);
  const states = stateTeller(clock, emit);
  const layout = layoutOf(options);
  const celsius = optionOf(options, 'celsius_symbol') as number | undefined;
  let reader: FrameReader | null = null;
  let wasBatteryLow = false;

  function onFrame(frame: Uint8Array, atMs: number): void {
    const shown = readDisplay(frame, layout, celsius);
    if (shown.isBatteryLow && !wasBatteryLow) {
      faults.tell('instrument-error', 'the meter says that its battery is low; its numbers may be wrong');
    }
    wasBatteryLow = shown.isBatteryLow;
    if (shown.kind === 'unknown') refuse('not-understood', `the display shows ${shown.why}`);
    else if (shown.kind === 'not-live') refuse('instrument-error', `the display is no reading: ${shown.why}`);
    else read(shown, atMs);
  }

  function read(shown: Extract<Shown, { measures: Measurand }>, atMs: number): void {
    const own = channels.filter(({ measures }) => measures === shown.measures);
    if (own.length === 0) return refuse('not-understood', notOurs(shown.measures, channels));
    states.reading();
    for (const channel of own) {
      const make = readingMaker(channel);
      emit(shown.kind === 'overload' ? make(NaN, 'overload', atMs) : make(shown.value, null, atMs));
    }
  }

  function refuse(code: 'not-understood' | 'instrument-error', why: string): void {
    faults.count(code, why);
    states.notReading(why);
  }

  link.start({
    onState(state) {
      const connected = state.kind === 'open' || state.kind === 'back';
      const onTorn = (why: string): void => faults.count('not-understood', why);
      reader = connected ? new FrameReader(layout.bytes, { onFrame, onTorn }) : null;
      states.link(state);
    },
    onBytes: (chunk) => reader?.push(chunk, clock.nowMs()),
  });
  return {
    async stop() {
      faults.stop();
      await link.stop();
    },
  };
}

function layoutOf(options: unknown): DisplayLayout {
  const name = optionOf(options, 'layout');
  return LAYOUTS[typeof name === 'string' ? name : DEFAULT_LAYOUT] ?? FOURTEEN_BYTE;
}

function notOurs(measures: Measurand, channels: readonly ChannelSpec[]): string {
  const wanted = channels.map((channel) => channel.measures).join(', ');
  return `the meter shows ${measures}, the bench file has ${wanted || 'no channel'}; turn its dial, or list a channel`;
}
