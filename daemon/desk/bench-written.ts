import { groupIn } from '../design/form-choices.js';
import type { ChannelSpec } from '../../drivers/driver.js';
import { DRIVERS } from '../../drivers/registry.js';

/** What stands at a path of keys. */
export function valueIn(written: unknown, path: readonly string[]): unknown {
  return path.reduce<unknown>((inner, key) => {
    const group = groupIn(inner);
    return Object.hasOwn(group, key) ? group[key] : undefined;
  }, written);
}

/** The channels that an instrument's driver finds in its options; none while they are wrong. */
export function foundChannels(spec: Readonly<Record<string, unknown>>): readonly ChannelSpec[] {
  const name = String(spec['driver']);
  const driver = Object.hasOwn(DRIVERS, name) ? DRIVERS[name] : undefined;
  const options = spec['options'] ?? {};
  if (driver === undefined || driver.checkOptions(options).length > 0) return [];
  return driver.channelsOf(options);
}
