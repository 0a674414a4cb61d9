import type { Ladder } from '../thermal/ladder.js';
import { ladderNetwork, nodeOf, sharedHeatsinkNetwork } from '../thermal/network.js';
import type { ThermalNetwork } from '../thermal/network.js';
import type { Stack } from '../thermal/stack.js';
import { heatFlowSlope } from '../thermal/surface.js';
import type { SurfaceLaw } from '../thermal/surface.js';
import { heatsinkCapacity } from '../thermal/heatsink-size.js';
import { packageSurface, sinkSurface } from './cooling-model.js';
import type { SupplyModel } from './model.js';
import type { CoolingDescription, HeatsinkDescription, SupplyDescription, Uncertain } from './supply.js';

/** A part that is cooled: a rail's regulator or the filter's pass device, as the model has it settled. */
export interface CooledPart {
  /** The first part of its test points' ids. */
  readonly name: string;
  readonly cooling: CoolingDescription;
  readonly watts: number;
  /** Settled, degrees C. */
  readonly case: number;
  readonly junction: number;
  readonly heatsink: number;
}

/** Which end of the uncertain heat capacities. */
export type CapacityEnd = 'low' | 'typical' | 'high';

/** Every cooled part of a supply that has just been solved. */
export function cooledParts({ description, filter, rails }: SupplyModel): CooledPart[] {
  const parts = rails.flatMap((rail) =>
    rail.cooling === null
      ? []
      : [
          {
            name: rail.description.name,
            cooling: rail.description.cooling,
            watts: rail.watts,
            case: rail.cooling.case,
            junction: rail.cooling.junction,
            heatsink: rail.cooling.heatsink,
          },
        ],
  );
  if (filter === null || filter.cooling === null || description.filter?.kind !== 'multiplier') return parts;
  const { cooling, watts } = filter;
  const { cooling: described } = description.filter;
  const settled = { case: cooling.case, junction: cooling.junction, heatsink: cooling.heatsink };
  return [{ name: 'filter', cooling: described, watts, ...settled }, ...parts];
}

/** The name of the shared heatsink that a part really sits on, or null. */
export function sharedSinkOf({ mounting }: CoolingDescription): string | null {
  return mounting !== null && mounting.fitted && typeof mounting.heatsink === 'string'
    ? mounting.heatsink
    : null;
}

/** Junction, case and its own heatsink, as typical parts; for a part that sits on no shared one. */
export function stackOf({ cooling }: CooledPart, end: CapacityEnd): Stack {
  const { junctionCapacity, caseCapacity, junctionToCase, junctionToAir } = cooling.package;
  const { mounting } = cooling;
  const capacities = [junctionCapacity, caseCapacity[end]];
  if (mounting === null || !mounting.fitted || typeof mounting.heatsink === 'string') {
    const surface = packageSurface(junctionToAir.typical, junctionToCase.typical);
    return { capacities, resistances: [junctionToCase.typical], surface };
  }
  return {
    capacities: [...capacities, sinkCapacity(mounting.heatsink, end)],
    resistances: [junctionToCase.typical, mounting.interface.typical],
    surface: scaledSurface(mounting.heatsink),
  };
}

/** The parts on one shared heatsink as a network around their rest; node 0 is the heatsink. */
export function sharedNetwork(
  sink: string,
  parts: readonly CooledPart[],
  { heatsinks }: SupplyDescription,
  end: CapacityEnd,
  air: number,
): ThermalNetwork {
  const heatsink = heatsinks[sink]!;
  const on = parts.filter(({ cooling }) => sharedSinkOf(cooling) === sink);
  const watts = on.reduce((sum, part) => sum + part.watts, 0);
  const rest = on[0]?.heatsink ?? air;
  const resistance = watts > 0 ? (rest - air) / watts : 1 / heatFlowSlope(scaledSurface(heatsink), rest, air);
  return sharedHeatsinkNetwork(
    on.map((part) => ({ name: part.name, ladder: packageLadder(part, end) })),
    { capacity: sinkCapacity(heatsink, end), resistance },
  );
}

/** A part's own stack as a linear network around its rest; the last one gives its heat by the law's slope there. */
export function stackNetwork(part: CooledPart, air: number): ThermalNetwork {
  const { capacities, resistances, surface } = stackOf(part, 'typical');
  const toAir = 1 / heatFlowSlope(surface, part.heatsink, air);
  const names = ['junction', 'case', 'heatsink'];
  return ladderNetwork(
    capacities.map((capacity, k) => ({ name: names[k]!, capacity, resistance: resistances[k] ?? toAir })),
  );
}

/** The node of a part's case in its shared network. */
export function caseNode(network: ThermalNetwork, part: CooledPart): number {
  return nodeOf(network, `${part.name}.case`);
}

function packageLadder({ cooling }: CooledPart, end: CapacityEnd): Ladder {
  const { junctionCapacity, caseCapacity, junctionToCase } = cooling.package;
  const { mounting } = cooling;
  if (mounting === null) throw new Error('a bare package sits on no shared heatsink');
  return [
    { name: 'junction', capacity: junctionCapacity, resistance: junctionToCase.typical },
    { name: 'case', capacity: caseCapacity[end], resistance: mounting.interface.typical },
  ];
}

function scaledSurface(heatsink: HeatsinkDescription): SurfaceLaw {
  const law = sinkSurface(heatsink);
  if (heatsink.kind === 'rated') return law;
  const { typical } = heatsink.factor;
  return {
    conduction: law.conduction / typical,
    convection: law.convection / typical,
    radiation: law.radiation / typical,
  };
}

function sinkCapacity(heatsink: HeatsinkDescription, end: keyof Uncertain & CapacityEnd): number {
  return heatsink.kind === 'rated' ? heatsink.capacity[end] : heatsinkCapacity(heatsink.size);
}
