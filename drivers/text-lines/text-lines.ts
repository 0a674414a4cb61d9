import type {
  ChannelSpec,
  Driver,
  DriverContext,
  Measurand,
  OptionProblem,
  RunningInstrument,
} from '../driver.js';
import { faultTeller } from '../fault-teller.js';
import { byteLineReader, type LineReader } from '../lines/line-reader.js';
import { numberBetween, numberOption, optionOf, optionProblems } from '../options.js';
import { stateTeller } from '../state-teller.js';
import { LineBoard } from './line-board.js';
import { parsePattern, PatternProblem, type Pattern } from './pattern.js';

const DEFAULT_INTERVAL_MS = 1000;
const MOST_PATTERNS = 16;

const RULES = {
  pattern: {
    allowed: 'a line in plain words, such as T1: {lamps.case} C',
    accepts: (value: unknown) => typeof value === 'string',
  },
  patterns: {
    allowed: `a list of 1 to ${MOST_PATTERNS} lines in plain words, such as T1: {lamps.case} C`,
    accepts: (value: unknown) => isTextList(value) && value.length > 0 && value.length <= MOST_PATTERNS,
  },
  interval_ms: numberBetween(1, 3_600_000, 'ms'),
};

/** Boards and meters that print lines by themselves. */
export const textLines: Driver = {
  name: 'text-lines',
  reads: 'boards and meters that print lines of text by themselves, described by a pattern in plain words',
  channelsOf,
  checkOptions,
  intervalMs: (options) => numberOption(options, 'interval_ms', DEFAULT_INTERVAL_MS),
  start,
};

/** The names that have a unit word behind them, each once. */
function channelsOf(options: unknown): readonly ChannelSpec[] {
  const channels = new Map<string, Measurand>();
  for (const { parts } of readPatterns(options).patterns) {
    for (const part of parts) {
      if (part.kind === 'number' && part.measures !== undefined && !channels.has(part.name)) {
        channels.set(part.name, part.measures);
      }
    }
  }
  return [...channels].map(([name, measures]) => ({ name, measures }));
}

function checkOptions(options: unknown): readonly OptionProblem[] {
  const problems = [...optionProblems(options, RULES), ...readPatterns(options).problems];
  const given = [optionOf(options, 'pattern'), optionOf(options, 'patterns')].filter(
    (value) => value !== undefined,
  );
  if (given.length === 1 || problems.length > 0) return problems;
  return [
    {
      key: 'pattern',
      found: given.length === 0 ? undefined : 'pattern and patterns',
      allowed: 'one of the two',
    },
  ];
}

function isTextList(value: unknown): value is readonly string[] {
  return Array.isArray(value) && value.every((entry) => typeof entry === 'string');
}

interface ReadPatterns {
  readonly patterns: readonly Pattern[];
  readonly problems: readonly OptionProblem[];
}

function readPatterns(options: unknown): ReadPatterns {
  const single = optionOf(options, 'pattern');
  const several = optionOf(options, 'patterns');
  const key = several === undefined ? 'pattern' : 'patterns';
  const sources = isTextList(several)
    ? several.slice(0, MOST_PATTERNS)
    : typeof single === 'string'
      ? [single]
      : [];
  const patterns: Pattern[] = [];
  const problems: OptionProblem[] = [];
  for (const source of sources) {
    try {
      patterns.push(parsePattern(source));
    } catch (problem) {
      if (!(problem instanceof PatternProblem)) throw problem;
      problems.push({
        key,
        found: source,
        allowed: `a pattern that can be read; this one ${problem.message}`,
      });
    }
  }
  return { patterns, problems };
}

function start({ channels, clock, emit, link, options }: DriverContext): RunningInstrument {
  const faults = faultTeller(clock, emit);
  const states = stateTeller(clock, emit);
  const board = new LineBoard(readPatterns(options).patterns, channels, faults);
  let reader: LineReader | null = null;

  function onLine(line: Uint8Array, atMs: number): void {
    const found = board.match(line);
    if (found === null) return;
    states.reading();
    const { matcher, makers } = found;
    for (let slot = 0; slot < makers.length; slot += 1) {
      const maker = makers[slot];
      if (maker !== undefined) emit(maker(matcher.values[slot] as number, matcher.marks[slot] ?? null, atMs));
    }
  }

  link.start({
    onState(state) {
      reader?.end();
      const connected = state.kind === 'open' || state.kind === 'back';
      reader = connected
        ? byteLineReader({ onLine, onFault: (code, detail) => faults.count(code, detail), skipFirst: true })
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
