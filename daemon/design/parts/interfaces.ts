import type { Spread } from './spread.js';

/** What lies between a package and its heatsink. */
export interface ThermalInterface {
  readonly name: string;
  /** Case to heatsink, K/W, on the packages that it was measured on; `other` for the rest. */
  readonly resistance: Readonly<Record<'TO-220' | 'TO-3' | 'TO-126' | 'other', Spread>>;
}

/** Screw torque and flatness move a mounting's resistance by about a third either way (from memory). */
function around(typical: number): Spread {
  return { low: typical * 0.5, typical, high: typical * 1.4 };
}

function resistance(to220: number, to3: number, to126: number): ThermalInterface['resistance'] {
  return { 'TO-220': around(to220), 'TO-3': around(to3), 'TO-126': around(to126), other: around(to220) };
}

/**
 * ON Semiconductor AN1040/D, Mounting Considerations for Power Semiconductors, table 1: TO-220AB at 8 in-lb with
 * 2 mil mica, TO-204AA (TO-3) at 6 in-lb with 3 mil mica, TO-126 at 6 in-lb with 2 mil mica. Other packages are taken as a TO-220 (from memory).
 */
const ALL: readonly ThermalInterface[] = [
  { name: 'dry', resistance: resistance(1.2, 0.5, 2) },
  { name: 'greased', resistance: resistance(1, 0.1, 1.3) },
  { name: 'mica-dry', resistance: resistance(3.4, 1.3, 4.3) },
  { name: 'mica-greased', resistance: resistance(1.6, 0.36, 3.3) },
  // From memory: a silicone pad lies between greased and dry mica.
  { name: 'silicone-pad', resistance: resistance(2.2, 0.8, 3.7) },
  // From memory: solder to the heatsink's copper.
  { name: 'soldered', resistance: resistance(0.3, 0.1, 0.4) },
];

/** Every interface that a design may name. */
export const INTERFACES: ReadonlyMap<string, ThermalInterface> = new Map(
  ALL.map((part) => [part.name, part]),
);

/**
 * Case to heatsink of this interface under this package, K/W.
 * @throws {RangeError} for a name that isn't in the library; a loaded design has none such.
 */
export function interfaceResistance(name: string, packageName: string): Spread {
  const part = INTERFACES.get(name);
  if (part === undefined) throw new RangeError(`interface "${name}" isn't in the part library`);
  if (packageName.startsWith('TO-220')) return part.resistance['TO-220'];
  if (packageName === 'TO-3' || packageName === 'TO-126') return part.resistance[packageName];
  return part.resistance.other;
}
