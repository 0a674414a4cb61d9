import type { Driver, DriverContext, RunningInstrument } from '../driver.js';
import { faultTeller } from '../fault-teller.js';
import { LinkNotOpen } from '../links/link-not-open.js';
import { numberBetween, numberOption, optionOf, optionProblems } from '../options.js';
import { stateTeller } from '../state-teller.js';
import { Conversation } from '../scpi/conversation.js';
import { MeterSession, type MeterSettings } from './meter-session.js';

const DEFAULT_INTERVAL_MS = 500;
const DEFAULT_TIMEOUT_MS = 2000;
const MOST_FIRST_COMMANDS = 8;

/** One command, no question: nobody would read its answer. */
const COMMAND = /^[\x20-\x3e\x40-\x7e]{1,80}$/;

const RULES = {
  interval_ms: numberBetween(50, 3_600_000, 'ms, the time for one round through all channels'),
  timeout_ms: numberBetween(100, 60_000, 'ms'),
  ranges: {
    allowed: 'for each channel auto or the largest value of its range, such as {logic.volts: 10}',
    accepts: (value: unknown) => isRecord(value) && Object.values(value).every(isRange),
  },
  integration_cycles: numberBetween(0.001, 1000, 'mains cycles'),
  answer_field: {
    allowed: 'a whole number from 1 to 32: which of several comma-separated values is the reading',
    accepts: (value: unknown) => Number.isInteger(value) && Number(value) >= 1 && Number(value) <= 32,
  },
  first_commands: {
    allowed: `up to ${MOST_FIRST_COMMANDS} commands without answers, such as SYST:REM`,
    accepts: (value: unknown) =>
      Array.isArray(value) &&
      value.length <= MOST_FIRST_COMMANDS &&
      value.every((command) => typeof command === 'string' && COMMAND.test(command)),
  },
};

/** Meters that speak SCPI. */
export const scpiMeter: Driver = {
  name: 'scpi-meter',
  reads: 'bench meters that answer SCPI commands: volts, amps, ohms, temperature, frequency',
  channelsOf: () => [],
  checkOptions: (options) => optionProblems(options, RULES),
  intervalMs: (options) => settingsOf(options).intervalMs,
  start,
};

function settingsOf(options: unknown): MeterSettings {
  const firstCommands = optionOf(options, 'first_commands');
  const ranges = optionOf(options, 'ranges');
  const cycles = optionOf(options, 'integration_cycles');
  const field = optionOf(options, 'answer_field');
  return {
    intervalMs: numberOption(options, 'interval_ms', DEFAULT_INTERVAL_MS),
    timeoutMs: numberOption(options, 'timeout_ms', DEFAULT_TIMEOUT_MS),
    firstCommands: Array.isArray(firstCommands) ? firstCommands.map(String) : [],
    ranges: new Map(isRecord(ranges) ? Object.entries(ranges).filter(isFixed) : []),
    integrationCycles: typeof cycles === 'number' ? cycles : null,
    answerField: typeof field === 'number' ? field : null,
  };
}

function isRange(value: unknown): boolean {
  return value === 'auto' || (typeof value === 'number' && value > 0 && value < 1e12);
}

function isFixed(entry: [string, unknown]): entry is [string, number] {
  return typeof entry[1] === 'number';
}

function isRecord(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

function start({ channels, clock, emit, link, options }: DriverContext): RunningInstrument {
  const faults = faultTeller(clock, emit);
  const states = stateTeller(clock, emit);
  const settings = settingsOf(options);
  const identity = { text: null };
  let conversation: Conversation | null = null;

  function send(command: string): void {
    link.write(Buffer.from(`${command}\n`)).catch((problem: unknown) => {
      if (problem instanceof LinkNotOpen) return; // the link's state says so already
      faults.count(
        'write-failed',
        `${command}: ${problem instanceof Error ? problem.message : String(problem)}`,
      );
    });
  }

  function converse(): void {
    conversation = new Conversation(clock, faults);
    const around = { channels, settings, clock, conversation, send, emit, faults, states, identity };
    conversation.run(new MeterSession(around).script());
  }

  link.start({
    onState(state) {
      conversation?.end();
      conversation = null;
      states.link(state);
      if (state.kind === 'open' || state.kind === 'back') converse();
    },
    onBytes: (chunk) => conversation?.push(chunk, clock.nowMs()),
  });
  return {
    async stop() {
      faults.stop();
      conversation?.end();
      await link.stop();
    },
  };
}
