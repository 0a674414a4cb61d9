import type { RailParts, SupplyParts } from './supply-parts.js';

/** Something that can be wrong with a simulated supply: a change to its parts. Add one by adding an entry below. */
export interface SimulatedFault {
  /** The word that chooses it, lower case with hyphens. */
  readonly name: string;
  /** For a person. */
  readonly title: string;
  /**
   * Which rail it strikes when none is named: `hottest` dissipates most, `lowest-volts` suffers most from the raw
   * volts; null when it isn't a rail's fault.
   */
  readonly strikes: 'hottest' | 'lowest-volts' | null;
  /** The parts with this fault. `rail` is a rail of the supply; faults of no rail leave it aside. */
  change(parts: SupplyParts, rail: string): SupplyParts;
}

export const SIMULATED_FAULTS: readonly SimulatedFault[] = [
  {
    name: 'none',
    title: 'Every part as the design has it',
    strikes: null,
    change: (parts) => parts,
  },
  {
    name: 'heatsink-missing',
    title: 'A regulator stands without its heatsink',
    strikes: 'hottest',
    change: (parts, rail) =>
      changeRail(parts, rail, (part) => ({ ...part, cooling: { ...part.cooling, heatsink: null } })),
  },
  {
    name: 'diode-open',
    title: 'One diode of the rectifier is open',
    strikes: null,
    change: (parts) => ({
      ...parts,
      source: { ...parts.source, halfCycles: parts.source.halfCycles === 'both' ? 'one' : 'none' },
    }),
  },
  {
    name: 'regulator-passes-input',
    title: 'A regulator has failed short and passes its input',
    strikes: 'lowest-volts',
    change: passInput,
  },
];

/** @throws RangeError naming the faults that exist. */
export function faultNamed(name: string): SimulatedFault {
  const fault = SIMULATED_FAULTS.find((each) => each.name === name);
  if (fault) return fault;
  const names = SIMULATED_FAULTS.map((each) => each.name).join(', ');
  throw new RangeError(`fault: found "${name}"; allowed are ${names}`);
}

/** The parts with this rail's regulator failed short. */
export function passInput(parts: SupplyParts, rail: string): SupplyParts {
  return changeRail(parts, rail, (part) => ({ ...part, passesInput: true }));
}

function changeRail(parts: SupplyParts, rail: string, change: (part: RailParts) => RailParts): SupplyParts {
  const part = parts.rails.get(rail);
  if (!part) {
    const names = [...parts.rails.keys()].join(', ');
    throw new RangeError(`rail: found "${rail}"; this supply has ${names}`);
  }
  return { ...parts, rails: new Map(parts.rails).set(rail, change(part)) };
}
