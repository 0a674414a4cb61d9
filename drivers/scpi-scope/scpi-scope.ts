import type { ChannelSpec, Driver, DriverContext, RunningInstrument } from '../driver.js';
import { faultTeller } from '../fault-teller.js';
import { isRecord, numberBetween, numberOption, optionOf, optionProblems } from '../options.js';
import { Conversation } from '../scpi/conversation.js';
import { firstCommandsOf, firstCommandsRule } from '../scpi/first-commands.js';
import { commandSender } from '../scpi/send.js';
import { stateTeller } from '../state-teller.js';
import { dialectFrom, dialectProblems } from './dialect.js';
import { ReplyReader, type BlockRules } from './reply-reader.js';
import { ScopeSession, type ScopeInput, type ScopeSettings } from './scope-session.js';

const DEFAULT_INTERVAL_MS = 2000;
const DEFAULT_TIMEOUT_MS = 1000;
const DEFAULT_TRIGGER_TIMEOUT_MS = 5000;
/** More has no place in one line of a recording. */
const MOST_POINTS = 1_000_000;
/** What is waited for once may never come: then nothing is missing. */
const ONCE_INTERVAL_MS = 30 * 24 * 3_600_000;
const MOST_FIRST_COMMANDS = 16;
const MOST_INPUTS = 16;
const CHANNEL_NAME = /^[A-Za-z][A-Za-z0-9_.-]{0,59}$/;
const RULES = {
  dialect: { allowed: '', accepts: () => true }, // has its own check, which names what is wrong inside
  inputs: {
    allowed:
      'channels with their input numbers, such as {reservoir.volts: 1} or {reservoir.volts: {input: 1, attenuation: 10}}',
    accepts: areInputs,
  },
  captures: {
    allowed: 'repeated or once',
    accepts: (value: unknown) => value === 'repeated' || value === 'once',
  },
  sample_bits: { allowed: '8 or 16', accepts: (value: unknown) => value === 8 || value === 16 },
  interval_ms: numberBetween(100, 3_600_000, 'ms from one capture to the next'),
  timeout_ms: numberBetween(100, 60_000, 'ms of silence'),
  trigger_timeout_ms: numberBetween(100, 3_600_000, 'ms'),
  most_points: numberBetween(10, MOST_POINTS, 'points'),
  first_commands: firstCommandsRule(MOST_FIRST_COMMANDS, ':TIM:SCAL 5E-3'),
};

/** Scopes that speak SCPI: their captures, with samples as they came. */
export const scpiScope: Driver = {
  name: 'scpi-scope',
  reads: 'scopes that answer SCPI commands with data blocks: captured waveforms',
  captures: true,
  channelsOf: (options) =>
    inputsOf(options).map(({ channel }): ChannelSpec => ({ name: channel, measures: 'dc-volts' })),
  checkOptions(options) {
    const problems = optionProblems(options, RULES);
    if (problems.some(({ key }) => key === 'options')) return problems;
    const inDialect = dialectProblems(optionOf(options, 'dialect'));
    const noInputs = optionOf(options, 'inputs') === undefined;
    const missing = noInputs ? [{ key: 'inputs', found: undefined, allowed: RULES.inputs.allowed }] : [];
    return [...problems, ...inDialect, ...missing, ...sampleProblems(options)];
  },
  intervalMs: (options) =>
    optionOf(options, 'captures') === 'once'
      ? ONCE_INTERVAL_MS
      : numberOption(options, 'interval_ms', DEFAULT_INTERVAL_MS),
  start,
};

function sampleProblems(options: unknown): ReturnType<Driver['checkOptions']> {
  const dialect = dialectFrom(optionOf(options, 'dialect'));
  const bits = numberOption(options, 'sample_bits', 8);
  if (dialect === null || optionOf(options, 'sample_bits') === undefined) return [];
  if (dialect.samples.some((choice) => choice.bits === bits)) return [];
  return [
    { key: 'sample_bits', found: bits, allowed: dialect.samples.map((choice) => choice.bits).join(' or ') },
  ];
}

function areInputs(value: unknown): boolean {
  if (!isRecord(value)) return false;
  const entries = Object.entries(value);
  return (
    entries.length > 0 &&
    entries.length <= MOST_INPUTS &&
    entries.every(([name, written]) => CHANNEL_NAME.test(name) && inputFrom(name, written) !== null)
  );
}

function inputsOf(options: unknown): readonly ScopeInput[] {
  const written = optionOf(options, 'inputs');
  if (!isRecord(written)) return [];
  return Object.entries(written).flatMap(([name, each]) => inputFrom(name, each) ?? []);
}

function inputFrom(channel: string, written: unknown): ScopeInput | null {
  const { input, attenuation = null } = isRecord(written)
    ? { input: written['input'], attenuation: written['attenuation'] }
    : { input: written };
  if (typeof input !== 'number' || !Number.isInteger(input) || input < 1 || input > MOST_INPUTS) return null;
  if (attenuation === null) return { channel, input, attenuation: null };
  const isFactor = typeof attenuation === 'number' && attenuation >= 0.001 && attenuation <= 10_000;
  return isFactor ? { channel, input, attenuation } : null;
}

function settingsOf(options: unknown, channels: readonly ChannelSpec[]): ScopeSettings {
  const dialect = dialectFrom(optionOf(options, 'dialect'));
  const bits = numberOption(options, 'sample_bits', 8);
  const samples = dialect?.samples.find((choice) => choice.bits === bits) ?? dialect?.samples[0];
  if (dialect === null || samples === undefined)
    throw new RangeError('scpi-scope: the options were not checked');
  const wanted = new Set(channels.map(({ name }) => name));
  return {
    dialect,
    samples,
    inputs: inputsOf(options).filter(({ channel }) => wanted.has(channel)),
    once: optionOf(options, 'captures') === 'once',
    intervalMs: numberOption(options, 'interval_ms', DEFAULT_INTERVAL_MS),
    timeoutMs: numberOption(options, 'timeout_ms', DEFAULT_TIMEOUT_MS),
    triggerTimeoutMs: numberOption(options, 'trigger_timeout_ms', DEFAULT_TRIGGER_TIMEOUT_MS),
    mostPoints: Math.floor(numberOption(options, 'most_points', MOST_POINTS)),
    firstCommands: firstCommandsOf(options),
  };
}

function start(context: DriverContext): RunningInstrument {
  const { channels, clock, emit, link, onCapture = () => undefined, options } = context;
  const faults = faultTeller(clock, emit);
  const states = stateTeller(clock, emit);
  const send = commandSender(link, faults);
  const settings = settingsOf(options, channels);
  const identity = { text: null };
  let conversation: Conversation | null = null;
  let isDone = false;

  function converse(): void {
    let reader: ReplyReader | null = null;
    conversation = new Conversation(clock, faults, (keep, told) => (reader = new ReplyReader(keep, told)));
    const allowBlocks = (rules: BlockRules | null): void => reader?.allowBlocks(rules);
    const take: typeof onCapture = (capture) => {
      isDone = settings.once;
      onCapture(capture);
    };
    const around = { channels, settings, clock, conversation, send, emit, faults, states, identity };
    conversation.run(new ScopeSession({ ...around, allowBlocks, onCapture: take }).script());
  }

  link.start({
    onState(state) {
      conversation?.end();
      conversation = null;
      states.link(state);
      if ((state.kind === 'open' || state.kind === 'back') && !isDone) converse();
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
