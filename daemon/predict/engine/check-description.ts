import type { LoadState } from '../../design/design.js';
import { feedOrder } from './feed-order.js';
import { SupplyError } from './supply-error.js';
import type {
  CoolingDescription,
  FilterDescription,
  LoadDescription,
  RailDescription,
  RegulatorDescription,
  ReservoirDescription,
  SupplyDescription,
  Uncertain,
} from './supply.js';

const STATES: readonly LoadState[] = ['idle', 'typical', 'full'];

/**
 * Refuses a description that contradicts itself or has numbers that no part can have. All that is wrong stands in
 * the one message.
 * @throws {SupplyError}
 */
export function checkDescription(supply: SupplyDescription): void {
  const problems = [
    ...sourceProblems(supply),
    ...reservoirProblems('reservoir', supply.reservoir),
    ...(supply.negativeReservoir === undefined
      ? []
      : reservoirProblems('negative-reservoir', supply.negativeReservoir)),
    ...(supply.filter === undefined ? [] : filterProblems(supply.filter, supply)),
    ...supply.rails.flatMap((rail) => railProblems(rail, supply)),
    ...nameProblems(supply.rails),
  ];
  if (problems.length > 0) throw new SupplyError('supply-contradictory', supply.name, problems.join('; '));
  feedOrder(supply);
}

function sourceProblems({ mains, transformer, rectifier, negativeReservoir }: SupplyDescription): string[] {
  const { kind } = rectifier;
  const wantsTap = kind === 'centre-tap' || kind === 'split-bridge';
  return [
    ...above0('mains.ratedVolts', mains.ratedVolts),
    ...above0('mains.volts', mains.volts.low),
    ...above0('mains.hertz', mains.hertz),
    ...above0('transformer.secondaryVolts', transformer.secondaryVolts.low),
    ...above0('transformer.ratedAmps', transformer.ratedAmps),
    ...from0('transformer.regulation', transformer.regulation.low),
    ...above0('transformer.ohmsShare', transformer.ohmsShare),
    ...from0('transformer.wiringOhms', transformer.wiringOhms),
    ...(transformer.limiterOhms === undefined
      ? []
      : from0('transformer.limiterOhms', transformer.limiterOhms.low)),
    ...when(
      transformer.regulation.low === 0 && transformer.wiringOhms === 0,
      'a transformer without regulation and wiring ohms would give any current; state one of them',
    ),
    ...when(
      wantsTap && transformer.windings === 'single',
      `a ${kind} rectifier wants a centre-tapped winding`,
    ),
    ...when(
      kind === 'split-bridge' && negativeReservoir === undefined,
      'a split bridge wants a negative reservoir',
    ),
    ...when(
      kind !== 'split-bridge' && negativeReservoir !== undefined,
      `a negative reservoir wants a split bridge, not a ${kind} rectifier`,
    ),
  ];
}

function reservoirProblems(name: string, { farads, esr, bleedOhms, load }: ReservoirDescription): string[] {
  return [
    ...above0(`${name}.farads`, farads.low),
    ...from0(`${name}.esr`, esr.low),
    ...resistance(`${name}.bleedOhms`, bleedOhms),
    ...loadProblems(name, load),
  ];
}

function filterProblems(filter: FilterDescription, supply: SupplyDescription): string[] {
  return [
    ...above0('filter.resistance', filter.resistance.low),
    ...above0('filter.capacitance', filter.capacitance.low),
    ...loadProblems('filter', filter.load),
    ...(filter.kind === 'rc' ? from0('filter.esr', filter.esr.low) : []),
    ...(filter.kind === 'multiplier'
      ? [
          ...resistance('filter.dividerOhms', filter.dividerOhms),
          ...coolingProblems('filter', filter.cooling, supply),
        ]
      : []),
  ];
}

function railProblems(rail: RailDescription, supply: SupplyDescription): string[] {
  const { name, polarity, regulator } = rail;
  const source = sourcePolarity(rail, supply);
  return [
    ...when(
      source !== null && source !== polarity,
      `${name} is a ${polarity} rail and can't be made from ${rail.from}, which is ${source ?? ''}`,
    ),
    ...from0(`${name}.seriesOhms`, rail.seriesOhms),
    ...loadProblems(name, rail.load),
    ...regulatorProblems(name, regulator),
    ...(regulator.kind === 'given' ? [] : coolingProblems(name, rail.cooling, supply)),
  ];
}

/** What a rail can be made from; null when the feed isn't there, which is told elsewhere. */
function sourcePolarity(
  { from }: RailDescription,
  { rails }: SupplyDescription,
): RailDescription['polarity'] | null {
  if (from === 'reservoir' || from === 'filter') return 'positive';
  if (from === 'negative-reservoir') return 'negative';
  return rails.find(({ name }) => name === from)?.polarity ?? null;
}

function regulatorProblems(name: string, regulator: RegulatorDescription): string[] {
  switch (regulator.kind) {
    case 'adjustable':
      return [
        ...above0(`${name}.referenceVolts`, regulator.referenceVolts.low),
        ...above0(`${name}.r1`, regulator.r1.low),
        ...from0(`${name}.r2`, regulator.r2.low),
      ];
    case 'fixed':
      return [
        ...above0(`${name}.volts`, regulator.volts.low),
        ...from0(`${name}.quiescentAmps`, regulator.quiescentAmps.low),
      ];
    case 'zener':
      return [
        ...above0(`${name}.zenerVolts`, regulator.zenerVolts.low),
        ...above0(`${name}.resistance`, regulator.resistance.low),
        ...above0(`${name}.beta`, regulator.beta.low),
      ];
    case 'switching':
      return [
        ...above0(`${name}.volts`, regulator.volts.low),
        ...when(regulator.efficiency.length === 0, `${name}.efficiency has no point`),
      ];
    case 'given':
      return above0(`${name}.volts`, regulator.volts.low);
  }
}

function coolingProblems(
  name: string,
  cooling: CoolingDescription,
  { heatsinks }: SupplyDescription,
): string[] {
  const { junctionToAir, junctionToCase } = cooling.package;
  const { mounting } = cooling;
  const bare = [
    ...from0(`${name}.junctionToCase`, junctionToCase.low),
    ...when(
      !(junctionToAir.low > junctionToCase.high),
      `${name}: ${junctionToAir.low} K/W from junction to air must be more than ${junctionToCase.high} from junction to case`,
    ),
  ];
  if (mounting === null) return bare;
  const { heatsink } = mounting;
  if (typeof heatsink !== 'string') {
    const factor = heatsink.kind === 'rated' ? heatsink.toAir : heatsink.factor;
    return [
      ...bare,
      ...from0(`${name}.interface`, mounting.interface.low),
      ...above0(factor.name, factor.low),
    ];
  }
  const shared = Object.keys(heatsinks);
  const known = shared.length === 0 ? 'there is none' : `there are ${shared.join(', ')}`;
  return [
    ...bare,
    ...when(!Object.hasOwn(heatsinks, heatsink), `${name} sits on heatsink ${heatsink}, but ${known}`),
  ];
}

function loadProblems(name: string, load: LoadDescription): string[] {
  return STATES.flatMap((state) => [
    ...from0(`${name}.load.${state}.amps`, load[state].amps.low),
    ...resistance(`${name}.load.${state}.ohms`, load[state].ohms),
  ]);
}

function nameProblems(rails: readonly RailDescription[]): string[] {
  const taken = ['mains', 'transformer', 'rectifier', 'reservoir', 'negative-reservoir', 'filter', 'ambient'];
  const names = rails.map(({ name }) => name);
  return [
    ...names.filter((name, at) => names.indexOf(name) !== at).map((name) => `two rails are called ${name}`),
    ...names.filter((name) => taken.includes(name)).map((name) => `a rail can't be called ${name}`),
  ];
}

function above0(name: string, value: number): string[] {
  return when(!(value > 0 && value < Infinity), `${name} must be above 0, not ${value}`);
}

function from0(name: string, value: number): string[] {
  return when(!(value >= 0 && value < Infinity), `${name} must be 0 or more, not ${value}`);
}

/** Infinity stands for none. */
function resistance(name: string, value: Uncertain['typical']): string[] {
  return when(!(value > 0), `${name} must be above 0, or Infinity for none, not ${value}`);
}

function when(wrong: boolean, problem: string): string[] {
  return wrong ? [problem] : [];
}
