import { ampsAndOhms, type LoadStates } from '../design/design-load.js';
import type { Design } from '../design/design.js';
import { ratedWatts, resistorsBetween } from '../predict/advice/values-to-buy.js';
import type { SupplyDescription } from '../predict/engine/supply.js';
import { dummyLoad, type DummyLoad } from '../predict/first-power.js';
import type { SupplyState } from '../predict/supply-state.js';

/** A place where something can be connected that draws: a rail, or a reservoir or filter with a load of its own. */
export interface Outlet {
  readonly name: string;
  /** What stands in for its load during the soak; null where nothing is drawn at full load. */
  readonly dummy: DummyLoad | null;
  /** What a regulator needs that would not hold its volts unloaded; null where it does. */
  readonly minimum: DummyLoad | null;
}

/**
 * Every rail, and every other place from which a design draws something directly.
 * @param full the supply at full load, for its volts
 */
export function outletsOf(design: Design, supply: SupplyDescription, full: SupplyState): Outlet[] {
  const { rails, reservoir, negative_reservoir, filter } = design;
  const direct: readonly (readonly [string, LoadStates | undefined])[] = [
    ['reservoir', reservoir.load],
    ['negative-reservoir', negative_reservoir?.load],
    ['filter', filter?.load],
  ];
  return [
    ...Object.entries(rails).map(([name, { load }]) => {
      const volts = full.rails.get(name)?.setVolts ?? NaN;
      return { name, dummy: dummyFor(load, volts), minimum: minimumFor(name, volts, supply) };
    }),
    ...direct.flatMap(([name, load]) =>
      load === undefined ? [] : [{ name, dummy: dummyFor(load, meanVolts(name, full)), minimum: null }],
    ),
  ];
}

/** A filter passes on what the reservoir has, less its drop. */
function meanVolts(name: string, { reservoirs }: SupplyState): number {
  return (reservoirs.get(name) ?? reservoirs.get('reservoir'))?.mean ?? NaN;
}

function dummyFor(load: LoadStates, volts: number): DummyLoad | null {
  const { amps, ohms } = ampsAndOhms(load.full);
  return dummyLoad(volts, amps + volts / ohms);
}

/** For the worst sample of the regulator; what its divider draws counts (LM317 datasheet, minimum load current). */
function minimumFor(name: string, volts: number, { rails }: SupplyDescription): DummyLoad | null {
  const regulator = rails.find((rail) => rail.name === name)?.regulator;
  if (regulator?.kind !== 'adjustable' && regulator?.kind !== 'fixed') return null;
  const divider =
    regulator.kind === 'adjustable' ? regulator.referenceVolts.typical / regulator.r1.typical : 0;
  const most = volts / (regulator.minimumLoadAmps - divider);
  const ohms = resistorsBetween(most / 3, most)[0];
  return ohms === undefined ? null : { ohms, ratedWatts: ratedWatts(volts ** 2 / ohms) };
}
