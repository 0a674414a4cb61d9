import { groupIn } from '../design/form-choices.js';
import { yamlValue } from '../design/yaml-text.js';
import { DRIVERS } from '../../drivers/registry.js';
import { valueIn } from './bench-written.js';

/**
 * Why a text isn't saved from the page; null when it may be. What starts programs (hooks, drivers from outside) and
 * what switches power (outputs) is written by a person in the file itself.
 */
export function guardedChange(before: string, after: string): string | null {
  const [was, is] = [yamlValue(before), yamlValue(after)];
  for (const key of ['hooks', 'outputs']) {
    if (JSON.stringify(valueIn(was, [key])) !== JSON.stringify(valueIn(is, [key]))) {
      return `${key} are changed in the file itself, not on the page`;
    }
  }
  const known = outsideDrivers(was);
  const fresh = outsideDrivers(is).find((driver) => !known.includes(driver));
  return fresh === undefined ? null : `the driver ${fresh} is from outside; write it in the file itself`;
}

function outsideDrivers(written: unknown): readonly string[] {
  return Object.values(groupIn(valueIn(written, ['instruments'])))
    .map((spec) => String(groupIn(spec)['driver']))
    .filter((driver) => !Object.hasOwn(DRIVERS, driver));
}
