import type { Bench, BenchInstrument } from './design/bench.js';
import { FileProblems, problemsAt, shown, type Finding } from './design/file-problems.js';
import { isTestPointId } from './design/test-points.js';
import { readYaml } from './design/yaml-text.js';
import type { Written } from './files.js';
import { baudOf } from './links.js';
import type { ChannelPlan } from './watch/plan.js';
import type { ChannelSpec, Driver } from '../drivers/driver.js';
import { DRIVERS } from '../drivers/registry.js';

/** An instrument of the bench with its driver and everything that it measures. */
export interface JoinedInstrument {
  readonly name: string;
  readonly spec: BenchInstrument;
  readonly driver: Driver;
  readonly channels: readonly ChannelSpec[];
  readonly plans: readonly ChannelPlan[];
  /** Where each channel's probe sits at the start: channel name to test point. */
  readonly probes: ReadonlyMap<string, string>;
}

/**
 * Joins each instrument of the bench file with its driver.
 * @throws {FileProblems} for unknown drivers and for options that a driver refuses.
 */
export function joinInstruments({ file, text, value }: Written<Bench>): readonly JoinedInstrument[] {
  const findings: Finding[] = [];
  const joined: JoinedInstrument[] = [];
  for (const [name, spec] of Object.entries(value.instruments)) {
    const driver = Object.hasOwn(DRIVERS, spec.driver) ? DRIVERS[spec.driver] : undefined;
    if (driver === undefined) findings.push(unknownDriver(name, spec.driver));
    else {
      findings.push(...refusedOptions(name, driver, spec));
      joined.push(joinInstrument(name, withLinkBaud(spec, driver), driver));
    }
  }
  if (findings.length > 0) {
    const yaml = readYaml(text, file);
    throw new FileProblems(problemsAt(file, findings, (path) => yaml.lineOf(path)));
  }
  return joined;
}

/** For drivers that want to know it, the link's bits per second as an option, unless the options have one. */
function withLinkBaud(spec: BenchInstrument, { wantsBaud }: Driver): BenchInstrument {
  const baud = baudOf(spec.link);
  if (wantsBaud !== true || baud === undefined) return spec;
  return { ...spec, options: { baud, ...spec.options } };
}

function unknownDriver(instrument: string, driver: string): Finding {
  const found = shown(driver);
  const allowed = Object.keys(DRIVERS).join(', ');
  const path = ['instruments', instrument, 'driver'];
  return {
    path,
    found,
    allowed,
    sentence: `found ${found}; there is no such driver, allowed are ${allowed}`,
  };
}

function refusedOptions(instrument: string, driver: Driver, spec: BenchInstrument): Finding[] {
  return driver.checkOptions(spec.options).map(({ key, found, allowed }) => ({
    path: ['instruments', instrument, 'options', ...key.split('.')],
    found: shown(found),
    allowed,
    sentence: `found ${shown(found)}; allowed is ${allowed}`,
    missing: found === undefined,
  }));
}

function joinInstrument(name: string, spec: BenchInstrument, driver: Driver): JoinedInstrument {
  const channels = channelsOf(driver, spec);
  const intervalMs = driver.intervalMs(spec.options);
  return {
    name,
    spec,
    driver,
    channels,
    plans: channels.map(({ name: channel }) => {
      const accuracy = spec.channels[channel]?.accuracy;
      return { instrument: name, channel, intervalMs, ...(accuracy !== undefined && { accuracy }) };
    }),
    probes: new Map(
      channels.flatMap(({ name: channel }) => {
        const at = spec.channels[channel]?.at ?? (isTestPointId(channel) ? channel : undefined);
        return at === undefined ? [] : [[channel, at] as const];
      }),
    ),
  };
}

function channelsOf(driver: Driver, spec: BenchInstrument): readonly ChannelSpec[] {
  const listed = Object.entries(spec.channels).map(([name, { measures }]) => ({ name, measures }));
  const found = driver.channelsOf(spec.options).filter(({ name }) => !(name in spec.channels));
  return [...listed, ...found];
}
