import type { ChannelSpec, Driver, DriverContext, Measurand, RunningInstrument } from '../driver.js';
import { faultTeller, type FaultTeller } from '../fault-teller.js';
import { byteLineReader, type LineReader } from '../lines/line-reader.js';
import { NulEnds } from '../lines/nul-ends.js';
import { numberOption } from '../options.js';
import { stateTeller } from '../state-teller.js';
import { csvForm } from './csv-form.js';
import { wantedFields } from './fields.js';
import { jsonForm } from './json-form.js';
import { LineBoard } from './line-board.js';
import type { GiveReading, LineForm } from './line-form.js';
import { patternForm } from './pattern-form.js';
import { StartUp } from './start-up.js';
import { settingsOf, textLineProblems, type TextLineSettings } from './text-line-options.js';

const DEFAULT_INTERVAL_MS = 1000;

/** Boards and meters that print lines by themselves. */
export const textLines: Driver = {
  name: 'text-lines',
  reads: 'boards and meters that print lines by themselves: text in a plain-words pattern, CSV or JSON',
  channelsOf,
  checkOptions: textLineProblems,
  intervalMs: (options) => numberOption(options, 'interval_ms', DEFAULT_INTERVAL_MS),
  start,
};

/** The names that have a unit word behind them, each once. */
function channelsOf(options: unknown): readonly ChannelSpec[] {
  const { patterns, fields } = settingsOf(options);
  const parts = [...patterns.flatMap((pattern) => pattern.parts), ...fields.map(({ number }) => number)];
  const channels = new Map<string, Measurand>();
  for (const part of parts) {
    if (part.kind === 'number' && part.measures !== undefined && !channels.has(part.name)) {
      channels.set(part.name, part.measures);
    }
  }
  return [...channels].map(([name, measures]) => ({ name, measures }));
}

/** Makes what reads one connection's lines. Faults of the settings are told once, here. */
function formMaker(
  settings: TextLineSettings,
  channels: readonly ChannelSpec[],
  faults: FaultTeller,
  give: GiveReading,
): () => LineForm {
  if (settings.format === 'pattern') {
    const form = patternForm(new LineBoard(settings.patterns, channels, faults, settings.decimal), give);
    return () => form;
  }
  const fields = wantedFields(settings.fields, channels, faults);
  if (settings.format === 'csv') return () => csvForm(fields, settings, faults, give);
  return () => jsonForm(fields, settings.decimal, faults, give);
}

function start({ channels, clock, emit, link, options }: DriverContext): RunningInstrument {
  const faults = faultTeller(clock, emit);
  const states = stateTeller(clock, emit);
  const startUp = new StartUp(clock, faults);
  const whyReading = (): string => startUp.inWords();
  const newForm = formMaker(settingsOf(options), channels, startUp, (reading) => {
    states.reading(whyReading);
    emit(reading);
  });
  let reader: LineReader | null = null;
  let nulEnds = new NulEnds();

  /** Lines are for this connection only, and so is a header. */
  function connect(): LineReader {
    const form = newForm();
    nulEnds = new NulEnds();
    startUp.begin();
    let isFirst = form.wantsFirst;
    return byteLineReader({
      skipFirst: !form.wantsFirst,
      latin1Signs: true,
      ...(form.takeAlike !== undefined && { takeLine: form.takeAlike }),
      onLine(line, atMs) {
        form.take(line, atMs, isFirst);
        isFirst = false;
      },
      onFault(code, detail) {
        isFirst = false;
        startUp.count(code, detail);
      },
    });
  }

  link.start({
    onState(state) {
      reader?.end();
      reader = state.kind === 'open' || state.kind === 'back' ? connect() : null;
      states.link(state);
    },
    onBytes: (chunk) => reader?.push(nulEnds.trimmed(chunk), clock.nowMs()),
  });
  return {
    async stop() {
      faults.stop();
      await link.stop();
    },
  };
}
