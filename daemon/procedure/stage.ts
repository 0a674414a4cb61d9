import { certain } from '../predict/engine/parameters.js';
import type {
  LoadDescription,
  SupplyDescription,
  TransformerDescription,
  Uncertain,
} from '../predict/engine/supply.js';

/** What hangs on an outlet: nothing, its dummy load of so many ohms, or what the design says it feeds. */
export type Hung = 'nothing' | 'real' | { readonly ohms: number };

/** The supply as far as it is connected in one step. */
export interface Stage {
  /** Without: nothing but transformer, rectifier and reservoirs. */
  readonly regulators: boolean;
  /** By outlet; one that isn't named has nothing on it. */
  readonly hung: Readonly<Record<string, Hung>>;
  readonly lid: 'open' | 'closed';
  /** In series with the primary. */
  readonly limiter: Limiter | null;
}

/** A lamp limiter as the supply sees it. */
export interface Limiter {
  /** Of the filament as warm as it gets in this stage, ohm. */
  readonly ohms: Uncertain;
  /** What the magnetising current leaves of the mains volts: 0 to 1. */
  readonly leaves: { readonly low: number; readonly typical: number };
}

/** The description of a design in one stage of its power-up. Loads are the same in every load state but the real ones. */
export function describeStage(design: SupplyDescription, stage: Stage): SupplyDescription {
  const { regulators, hung, limiter } = stage;
  const { filter, rails, reservoir, negativeReservoir, ...rest } = design;
  const load = (name: string, real: LoadDescription) => loadOf(real, hung[name] ?? 'nothing');
  return {
    ...rest,
    enclosureRise: stage.lid === 'closed' ? closedRise(design) : certain(design.enclosureRise.name, 0),
    mains: { ...design.mains, volts: mainsBehind(design.mains.volts, limiter) },
    transformer: transformerBehind(design.transformer, limiter),
    reservoir: { ...reservoir, load: load('reservoir', reservoir.load) },
    ...(negativeReservoir !== undefined && {
      negativeReservoir: {
        ...negativeReservoir,
        load: load('negative-reservoir', negativeReservoir.load),
      },
    }),
    ...(regulators && filter !== undefined && { filter: { ...filter, load: load('filter', filter.load) } }),
    rails: regulators ? rails.map((rail) => ({ ...rail, load: load(rail.name, rail.load) })) : [],
  };
}

function loadOf(real: LoadDescription, hung: Hung): LoadDescription {
  if (hung === 'real') return real;
  const amps = certain(real.typical.amps.name, 0);
  const load = { amps, ohms: hung === 'nothing' ? Infinity : hung.ohms };
  return { idle: load, typical: load, full: load };
}

/** The rise that the design states is for a closed lid, so that none at all isn't among what is drawn. */
function closedRise({ enclosureRise: { name, typical, high } }: SupplyDescription): Uncertain {
  return { name, low: typical / 2, typical, high };
}

function mainsBehind(volts: Uncertain, limiter: Limiter | null): Uncertain {
  if (limiter === null) return volts;
  const { low, typical } = limiter.leaves;
  return { ...volts, low: volts.low * low, typical: volts.typical * typical };
}

function transformerBehind(
  transformer: TransformerDescription,
  limiter: Limiter | null,
): TransformerDescription {
  return limiter === null ? transformer : { ...transformer, limiterOhms: limiter.ohms };
}
