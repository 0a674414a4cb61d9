import type { LoadState } from '../../daemon/design/design.js';
import { faultNamed, passInput } from '../../drivers/simulated/faults.js';
import { simulateSupply } from '../../drivers/simulated/supply.js';
import type { RailParts, SupplyParts } from '../../drivers/simulated/supply-parts.js';
import type { RunDesign } from './designs.js';
import type { Equipment } from './meters.js';
import type { Table } from './table.js';

/** Something that goes wrong at once, and which alarms name it. */
export interface RunFault {
  readonly name: string;
  /** The part, rail or instrument that has it. */
  readonly about: string;
  /** Whether it can be there from the switch-on; the others come while all is well. */
  readonly fromStart: boolean;
  /** Null: whatever is on the table shows it. */
  readonly needs: readonly Equipment[] | null;
  /** The load under which it does something; null: any. */
  readonly load: LoadState | null;
  strike(table: Table, size: number, load: LoadState): void;
  /** Whether an alarm of this id is about the very thing that is wrong. */
  names(alarm: string): boolean;
}

const MEASURES_MORE: readonly Equipment[] = ['with-ac-meter', 'with-scope'];
/** A screw counts as loose when the case gets so much hotter by it, K. */
const LOOSE_KELVIN = 30;

/** Every single fault that this supply and its table can have. */
export function faultsOf({ design }: RunDesign): readonly RunFault[] {
  const supply = simulateSupply(design, { load: 'full' });
  supply.advanceTo(3000);
  return [
    ...sourceFaults(),
    ...Object.entries(design.rails).flatMap(([rail, { regulator }]) => [
      ...railFaults(rail, supply.read(`${rail}.dissipation`)),
      ...(typeof regulator === 'string' && regulator.startsWith('LM') ? adjustFaults(rail) : []),
    ]),
    ...tableFaults(Object.keys(design.rails)),
  ];
}

const about =
  (...points: readonly string[]) =>
  (alarm: string): boolean =>
    points.includes(alarm.slice(alarm.indexOf(':') + 1));

function sourceFaults(): RunFault[] {
  const common = { fromStart: true, needs: null, load: null } as const;
  const ripple = about('reservoir.ripple', 'reservoir.valley');
  return [
    {
      ...common,
      name: 'diode-open',
      about: 'rectifier',
      needs: MEASURES_MORE,
      strike: (table) => table.strike((parts) => faultNamed('diode-open').change(parts, '')),
      names: ripple,
    },
    {
      ...common,
      name: 'reservoir-dried',
      about: 'reservoir',
      needs: MEASURES_MORE,
      load: 'full',
      strike: (table, size) => table.strike((parts) => dried(parts, size)),
      names: ripple,
    },
    {
      ...common,
      name: 'tap-too-high',
      about: 'transformer',
      strike: (table, size) => table.strike((parts) => withWinding(parts, 1 + size)),
      names: about('reservoir.volts'),
    },
    {
      ...common,
      name: 'tap-too-low',
      about: 'transformer',
      strike: (table, size) => table.strike((parts) => withWinding(parts, 1 - size / 2)),
      names: about('reservoir.volts'),
    },
  ];
}

function railFaults(rail: string, watts: number): RunFault[] {
  const common = { about: rail, fromStart: true, needs: null, load: null } as const;
  const hot = about(`${rail}.case`, `${rail}.junction`);
  return [
    {
      ...common,
      name: 'regulator-passes-input',
      strike: (table) => table.strike((parts) => passInput(parts, rail)),
      names: (alarm) => alarm === `passing-input:${rail}.volts`,
    },
    {
      ...common,
      name: 'heatsink-missing',
      load: 'full',
      strike: (table) => table.strike((parts) => faultNamed('heatsink-missing').change(parts, rail)),
      names: hot,
    },
    {
      ...common,
      name: 'heatsink-loose',
      load: 'full',
      strike: (table) => table.strike((parts) => loose(parts, rail, watts)),
      names: hot,
    },
    {
      ...common,
      name: 'overload',
      needs: MEASURES_MORE,
      strike: (table, size) => table.strike((parts) => overloaded(parts, rail, size)),
      names: about('transformer.amps', `${rail}.volts`, `${rail}.case`),
    },
  ];
}

function adjustFaults(rail: string): RunFault[] {
  const common = { about: rail, fromStart: true, needs: null, load: null } as const;
  const names = about(`${rail}.volts`);
  const volts = (name: string, change: (set: number, size: number) => number): RunFault => ({
    ...common,
    name,
    strike: (table, size, load) =>
      table.strike((parts) => atVolts(parts, rail, load, (set) => change(set, size))),
    names,
  });
  return [
    volts('adjust-open', () => Infinity),
    volts('adjust-grounded', () => 1.25),
    volts('r2-too-large', (set, size) => 1.25 + (set - 1.25) * 10 ** size),
    volts('r2-too-small', (set, size) => 1.25 + (set - 1.25) / 10 ** size),
  ];
}

/** What goes wrong on the table itself. */
function tableFaults(rails: readonly string[]): RunFault[] {
  const common = { fromStart: false, needs: null, load: 'full' } as const;
  const rail = rails.at(-1)!;
  return [
    {
      ...common,
      name: 'probe-off',
      about: `${rail}.case`,
      strike: (table) => table.takeOff(`${rail}.case`),
      names: (alarm) => alarm === `sensor-lifted:${rail}.case`,
    },
    {
      ...common,
      name: 'sensor-open',
      about: `${rail}.case`,
      strike: (table) => void table.open.add(`${rail}.case`),
      names: (alarm) => alarm === `overload:${rail}.case`,
    },
    {
      ...common,
      name: 'plug-pulled',
      about: 'board',
      strike: (table) => table.lose('board'),
      names: (alarm) => alarm === 'instrument-lost:board',
    },
    {
      ...common,
      name: 'falls-silent',
      about: 'meter',
      strike: (table) => void table.silent.add('meter'),
      names: (alarm) => alarm === 'stale:meter.volts',
    },
  ];
}

function withWinding(parts: SupplyParts, share: number): SupplyParts {
  const { source } = parts;
  return { ...parts, source: { ...source, peakVolts: share * source.peakVolts } };
}

/** Down to a third, with several times the series resistance (from memory). */
function dried(parts: SupplyParts, size: number): SupplyParts {
  const { farads, seriesOhms, bleedOhms } = parts.reservoir;
  const reservoir = {
    farads: farads * (1 - (2 / 3) * size),
    seriesOhms: seriesOhms * (1 + 4 * size),
    bleedOhms,
  };
  return { ...parts, reservoir };
}

function withRail(parts: SupplyParts, rail: string, change: (part: RailParts) => RailParts): SupplyParts {
  return { ...parts, rails: new Map(parts.rails).set(rail, change(parts.rails.get(rail)!)) };
}

function loose(parts: SupplyParts, rail: string, watts: number): SupplyParts {
  return withRail(parts, rail, (part) => {
    const heatsink = part.cooling.heatsink!;
    const gap = heatsink.interface + LOOSE_KELVIN / watts;
    return { ...part, cooling: { ...part.cooling, heatsink: { ...heatsink, interface: gap } } };
  });
}

/** Up to three times the full load. */
function overloaded(parts: SupplyParts, rail: string, size: number): SupplyParts {
  return withRail(parts, rail, (part) => {
    const { idle, typical, full } = part.loadAmps;
    const extra = 2 * size * full;
    return { ...part, loadAmps: { idle: idle + extra, typical: typical + extra, full: full + extra } };
  });
}

/** The load is a resistor at the rail's own volts, and stays that one. */
function atVolts(
  parts: SupplyParts,
  rail: string,
  load: LoadState,
  wrong: (set: number) => number,
): SupplyParts {
  return withRail(parts, rail, (part) => {
    const setVolts = Math.min(wrong(part.setVolts), 0.95 * parts.source.peakVolts - 2);
    const amps = (part.loadAmps[load] * setVolts) / part.setVolts;
    return { ...part, setVolts, loadAmps: { ...part.loadAmps, [load]: amps } };
  });
}
