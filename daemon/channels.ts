import type { Bench, BenchInstrument } from './design/bench.js';
import { FileProblems, problemsAt, shown, type Finding } from './design/file-problems.js';
import { isTestPointId } from './design/test-points.js';
import { readYaml } from './design/yaml-text.js';
import type { Written } from './files.js';
import { baudOf } from './links.js';
import { coldJunctionFindings } from './sensors/cold-junctions.js';
import { accuracyThrough, joinSensor, sensorFindings, type JoinedSensor } from './sensors/joined-sensor.js';
import type { ChannelPlan } from './watch/plan.js';
import type { ChannelSpec, Driver } from '../drivers/driver.js';
import { DRIVERS } from '../drivers/registry.js';

/** Drivers that are no part of this program, by the path or package name that the bench file has for them. */
export type OutsideDrivers = ReadonlyMap<string, Driver>;

const NO_DRIVERS: OutsideDrivers = new Map();

/** An instrument of the bench with its driver and everything that it measures. */
export interface JoinedInstrument {
  readonly name: string;
  readonly spec: BenchInstrument;
  readonly driver: Driver;
  /** What its driver measures of each channel, before any sensor is counted in. */
  readonly channels: readonly ChannelSpec[];
  readonly plans: readonly ChannelPlan[];
  /** What stands between a channel and its test point, by the channel's name. */
  readonly sensors: ReadonlyMap<string, JoinedSensor>;
  /** Where each channel's probe sits at the start: channel name to test point. */
  readonly probes: ReadonlyMap<string, string>;
}

/**
 * Joins each instrument of the bench file with its driver: one of ours, or else one from outside.
 * @throws {FileProblems} for unknown drivers and for options that a driver refuses.
 */
export function joinInstruments(
  { file, text, value }: Written<Bench>,
  outside: OutsideDrivers = NO_DRIVERS,
): readonly JoinedInstrument[] {
  const findings: Finding[] = [];
  const joined: JoinedInstrument[] = [];
  for (const [name, spec] of Object.entries(value.instruments)) {
    const driver = Object.hasOwn(DRIVERS, spec.driver) ? DRIVERS[spec.driver] : outside.get(spec.driver);
    if (driver === undefined) findings.push(unknownDriver(name, spec.driver));
    else {
      findings.push(
        ...refusedOptions(name, driver, spec),
        ...refusedLink(name, driver, spec),
        ...refusedSensors(name, spec),
      );
      joined.push(joinInstrument(name, withLinkBaud(spec, driver), driver));
    }
  }
  findings.push(...coldJunctionFindings(joined));
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

function refusedLink(instrument: string, driver: Driver, { link }: BenchInstrument): Finding[] {
  if ((link === undefined) === (driver.typed !== undefined)) return [];
  const path = ['instruments', instrument, 'link'];
  const found = shown(link);
  if (driver.typed !== undefined) {
    const allowed = 'no link';
    const sentence = `found ${found}, but you type what this instrument shows; leave the link out`;
    return [{ path, found, allowed, sentence }];
  }
  const allowed = 'a link with serial, usb, usbtmc or tcp';
  const sentence = `it is missing; ${driver.name} needs ${allowed} (an instrument that you read yourself has the driver by-hand)`;
  return [{ path, found, allowed, sentence, missing: true }];
}

function refusedSensors(instrument: string, { channels }: BenchInstrument): Finding[] {
  return Object.entries(channels).flatMap(([name, channel]) =>
    sensorFindings(['instruments', instrument, 'channels', name], channel),
  );
}

function joinInstrument(name: string, spec: BenchInstrument, driver: Driver): JoinedInstrument {
  const channels = channelsOf(driver, spec);
  const intervalMs = driver.intervalMs(spec.options);
  const sensors = new Map(
    Object.entries(spec.channels).flatMap(([channel, own]) => {
      const sensor = joinSensor(own);
      return sensor === null ? [] : [[channel, sensor] as const];
    }),
  );
  return {
    name,
    spec,
    driver,
    channels,
    plans: channels.map(({ name: channel }) => {
      const own = spec.channels[channel];
      const accuracy = own && accuracyThrough(own, sensors.get(channel) ?? null);
      return {
        instrument: name,
        channel,
        intervalMs,
        ...(accuracy !== undefined && { accuracy }),
        ...(driver.typed !== undefined && { typed: true }),
      };
    }),
    sensors,
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
