import type { Design } from './design.js';
import { anyRail } from './form-labels.js';
import { DIODES } from './parts/diodes.js';
import { INTERFACES } from './parts/interfaces.js';
import { PACKAGES } from './parts/packages.js';
import { REGULATORS } from './parts/regulators.js';

/** One thing that may be chosen. */
export interface FormChoice {
  /** What is written: a text, a number, or a group of keys to begin with. */
  readonly value: FormValue;
  readonly label: string;
}

export type FormValue = string | number | { readonly [key: string]: FormValue };

/** The design as far as it is written; nothing in it has been checked. */
export type Written = Readonly<Record<string, unknown>>;

/** What takes the place of a regulator's name, with what must be said of it. */
const OTHER_REGULATORS: readonly FormChoice[] = [
  { label: 'a zener diode with a follower', value: { kind: 'zener', zener_volts: 5.6, resistor: 470 } },
  {
    label: 'a switching module',
    value: { kind: 'switching', volts: 5, efficiency: '[[0.1, 80], [1, 88]]', minimum_input: 7 },
  },
  { label: 'given volts', value: { kind: 'given', volts: 5, dropout: 1 } },
];

const FILTERS: readonly FormChoice[] = [
  {
    label: 'a capacitance multiplier',
    value: { kind: 'multiplier', follower: 'darlington', resistor: 1000, capacity_uF: 470 },
  },
  { label: 'a resistor and a capacitor', value: { kind: 'rc', resistor: 1, capacity_uF: 2200 } },
];

const TOLERANCES: readonly FormChoice[] = [
  { label: 'EN 50160', value: 'EN 50160' },
  { label: 'ANSI C84.1', value: 'ANSI C84.1' },
  { label: 'in percent of your own', value: { low_percent: -10, high_percent: 10 } },
];

/** What may be chosen at a path beyond what its schema lists; null for nothing. */
export function choicesAt(path: readonly string[], written: Written): readonly FormChoice[] | null {
  switch (anyRail(path).replace(/^filter\.cooling/, 'rails.*.cooling')) {
    case 'mains.tolerance':
      return TOLERANCES;
    case 'rectifier.diode':
      return [...named(DIODES.keys()), ...own('diodes', written)];
    case 'filter':
      return FILTERS;
    case 'rails.*.regulator':
      return [...named(REGULATORS.keys()), ...own('regulators', written), ...OTHER_REGULATORS];
    case 'rails.*.from':
      return named(feeds(written, path[1]));
    case 'rails.*.cooling.package':
      return [...named(PACKAGES.keys()), ...own('packages', written)];
    case 'rails.*.cooling.interface':
      return named(INTERFACES.keys());
    case 'rails.*.cooling.heatsink':
      return named(['none', ...keysIn(written['heatsinks'])]);
    default:
      return null;
  }
}

/** Where a rail may be fed from. */
function feeds(written: Written, rail: string | undefined): string[] {
  const kind = groupIn(written['rectifier'])['kind'] as Design['rectifier']['kind'];
  return [
    'reservoir',
    ...(kind === 'split-bridge' ? ['negative-reservoir'] : []),
    ...(written['filter'] === undefined ? [] : ['filter']),
    ...keysIn(written['rails']).filter((other) => other !== rail),
  ];
}

function named(names: Iterable<string>): FormChoice[] {
  return [...names].map((name) => ({ value: name, label: name }));
}

function own(kind: string, { parts }: Written): FormChoice[] {
  return named(keysIn(groupIn(parts)[kind]));
}

function keysIn(value: unknown): string[] {
  return Object.keys(groupIn(value));
}

/** The keys of a group; none of anything else. */
export function groupIn(value: unknown): Written {
  return typeof value === 'object' && value !== null && !Array.isArray(value) ? (value as Written) : {};
}
