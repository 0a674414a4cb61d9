import type { ChannelSpec, Driver, DriverContext, OptionProblem, RunningInstrument } from '../driver.js';
import { faultTeller, type FaultTeller } from '../fault-teller.js';
import { LinkNotOpen } from '../links/link-not-open.js';
import { numberBetween, numberOption, optionOf, optionProblems } from '../options.js';
import { stateTeller } from '../state-teller.js';
import { blocksOf } from './blocks.js';
import type { BusSettings } from './bus-line.js';
import { BusSession } from './bus-session.js';
import { BusTalk } from './bus-talk.js';
import { busUnits, startAnew } from './bus-unit.js';
import { mapProblems, MOST_ENTRIES, registersOf, type RegisterSpec } from './register-map.js';

const DEFAULT_INTERVAL_MS = 1000;
const DEFAULT_TIMEOUT_MS = 500;
const DEFAULT_BAUD = 9600;

const RULES = {
  registers: {
    allowed: `a list of 1 to ${MOST_ENTRIES} registers, each with channel, unit, read, address, type, measures`,
    accepts: (value: unknown) => Array.isArray(value) && value.length > 0 && value.length <= MOST_ENTRIES,
  },
  interval_ms: numberBetween(50, 3_600_000, 'ms, the time between two readings of a unit'),
  timeout_ms: numberBetween(20, 60_000, 'ms'),
  baud: numberBetween(
    300,
    4_000_000,
    "bits per second, the same as the link's; it sets the silence between frames",
  ),
};

/**
 * Devices on a MODBUS line (RTU framing), read with functions 3 and 4; 1 and 2 are only asked to get in step. The
 * protocol is written here and not taken from a library: a link is a stream of bytes that comes and goes under an
 * injected clock, while libraries bring their own ports and timers, and a late answer must never be taken for the next.
 */
export const modbusRtu: Driver = {
  name: 'modbus-rtu',
  reads: 'devices on a MODBUS line (RTU), several on one link, described by a register map',
  channelsOf: (options) => registersOf(options).map(({ name, measures }) => ({ name, measures })),
  checkOptions,
  intervalMs: (options) => settingsOf(options).intervalMs,
  wantsBaud: true,
  start,
};

function checkOptions(options: unknown): readonly OptionProblem[] {
  const problems = [...optionProblems(options, RULES), ...mapProblems(options)];
  if (problems.length > 0 || optionOf(options, 'registers') !== undefined) return problems;
  return [{ key: 'registers', found: undefined, allowed: RULES.registers.allowed }];
}

function settingsOf(options: unknown): BusSettings {
  return {
    intervalMs: numberOption(options, 'interval_ms', DEFAULT_INTERVAL_MS),
    timeoutMs: numberOption(options, 'timeout_ms', DEFAULT_TIMEOUT_MS),
    baud: numberOption(options, 'baud', DEFAULT_BAUD),
  };
}

function start({ channels, clock, emit, link, options }: DriverContext): RunningInstrument {
  const faults = faultTeller(clock, emit);
  const states = stateTeller(clock, emit);
  const settings = settingsOf(options);
  const units = busUnits(blocksOf(wantedRegisters(registersOf(options), channels, faults)));
  let talk: BusTalk | null = null;

  function send(bytes: Uint8Array): void {
    link.write(bytes).catch((problem: unknown) => {
      if (problem instanceof LinkNotOpen) return; // the link's state says so already
      faults.count('write-failed', problem instanceof Error ? problem.message : String(problem));
    });
  }

  function converse(): void {
    talk = new BusTalk(clock);
    units.forEach((unit) => startAnew(unit, clock.nowMs()));
    talk.run(new BusSession({ units, settings, clock, talk, send, emit, faults, states }).script());
  }

  link.start({
    onState(state) {
      talk?.end();
      talk = null;
      states.link(state);
      if (state.kind === 'open' || state.kind === 'back') converse();
    },
    onBytes: (chunk) => talk?.push(chunk, clock.nowMs()),
  });
  return {
    async stop() {
      faults.stop();
      talk?.end();
      await link.stop();
    },
  };
}

/** The registers that the bench file wants; tells as faults which of its channels the map doesn't have. */
function wantedRegisters(
  registers: readonly RegisterSpec[],
  channels: readonly ChannelSpec[],
  faults: FaultTeller,
): readonly RegisterSpec[] {
  return channels.flatMap((channel) => {
    const register = registers.find(({ name }) => name === channel.name);
    if (register?.measures === channel.measures) return [register];
    const why =
      register === undefined
        ? `no register has the channel ${channel.name}, so it is never read`
        : `the register of ${channel.name} measures ${register.measures}, the bench file says ${channel.measures}; make the two agree`;
    faults.tell('not-understood', why);
    return [];
  });
}
