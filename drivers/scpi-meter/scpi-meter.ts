import type { Driver, DriverContext, RunningInstrument } from '../driver.js';
import { faultTeller } from '../fault-teller.js';
import { isRecord, numberBetween, numberOption, optionOf, optionProblems } from '../options.js';
import { stateTeller } from '../state-teller.js';
import { Conversation } from '../scpi/conversation.js';
import { firstCommandsOf, firstCommandsRule } from '../scpi/first-commands.js';
import { commandSender } from '../scpi/send.js';
import { MeterSession, type MeterSettings } from './meter-session.js';

const DEFAULT_INTERVAL_MS = 500;
const DEFAULT_TIMEOUT_MS = 2000;
const MOST_FIRST_COMMANDS = 8;

const RULES = {
  interval_ms: numberBetween(20, 3_600_000, 'ms, the time for one round through all channels'),
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
  first_commands: firstCommandsRule(MOST_FIRST_COMMANDS, 'SYST:REM'),
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
  const ranges = optionOf(options, 'ranges');
  const cycles = optionOf(options, 'integration_cycles');
  const field = optionOf(options, 'answer_field');
  return {
    intervalMs: numberOption(options, 'interval_ms', DEFAULT_INTERVAL_MS),
    timeoutMs: numberOption(options, 'timeout_ms', DEFAULT_TIMEOUT_MS),
    firstCommands: firstCommandsOf(options),
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

function start({ channels, clock, emit, link, options }: DriverContext): RunningInstrument {
  const faults = faultTeller(clock, emit);
  const states = stateTeller(clock, emit);
  const send = commandSender(link, faults);
  const settings = settingsOf(options);
  const identity = { text: null };
  let conversation: Conversation | null = null;

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
