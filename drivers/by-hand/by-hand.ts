import type { ChannelSpec, Driver, DriverContext, RunningInstrument } from '../driver.js';
import { faultTeller } from '../fault-teller.js';
import { lineReader, type LineReader } from '../lines/line-reader.js';
import { numberBetween, numberOption, optionProblems } from '../options.js';
import { readingMaker, type ReadingMaker } from '../reading-of.js';
import { stateTeller } from '../state-teller.js';
import { readTyped } from './typed-value.js';

/** A reading that a person typed is shown as good for three of these: five minutes. */
const DEFAULT_INTERVAL_MS = 100_000;

const RULES = {
  interval_ms: numberBetween(1000, 3_600_000, 'ms; after three of them a typed reading is old'),
};

/** A meter without a cable: a person reads it and types what it shows. */
export const byHand: Driver = {
  name: 'by-hand',
  reads: 'any meter without a cable: you read it and type what it shows (12.03, 45m, OL)',
  typed: { whyNot: (typed, measures) => readTyped(typed, measures).why, line: typedLine },
  channelsOf: () => [],
  checkOptions: (options) => optionProblems(options, RULES),
  intervalMs: (options) => numberOption(options, 'interval_ms', DEFAULT_INTERVAL_MS),
  start,
};

/** One typed reading as it goes over the link of a by-hand instrument. */
export function typedLine(channel: string, typed: string): Uint8Array {
  return new TextEncoder().encode(`${channel}\t${typed.replace(/[\r\n\t]/g, ' ')}\n`);
}

function start({ channels, clock, emit, link }: DriverContext): RunningInstrument {
  const faults = faultTeller(clock, emit);
  const states = stateTeller(clock, emit);
  const makers = new Map(channels.map((spec) => [spec.name, { spec, make: readingMaker(spec) }]));
  let reader: LineReader | null = null;

  function onLine(line: string, atMs: number): void {
    const [name = '', typed = ''] = line.split('\t');
    const own: { spec: ChannelSpec; make: ReadingMaker } | undefined = makers.get(name);
    if (own === undefined) return faults.count('not-understood', 'a reading for no channel of ours', line);
    const found = readTyped(typed, own.spec.measures);
    if (found.why !== null) return faults.count('not-understood', found.why);
    states.reading();
    emit(own.make(found.value, found.mark, atMs));
  }

  link.start({
    onState(state) {
      reader?.end();
      const connected = state.kind === 'open' || state.kind === 'back';
      reader = connected
        ? lineReader({ onLine, onFault: (code, detail) => faults.count(code, detail) })
        : null;
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
