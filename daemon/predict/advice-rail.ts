import { E12 } from '../design/parts/series.js';
import type { AdviceStates } from './advice.js';
import type { Advice } from './prediction.js';

/** Ripple valley against setting and dropout at full load on the lowest mains. */
export function dropoutAdvice(rail: string, states: AdviceStates): Advice[] {
  const { facts, mains, fullLow } = states;
  const regulator = facts.regulators[rail];
  const state = fullLow.rails[rail];
  if (!regulator || !state) return [];
  const needed = state.setting + state.dropout;
  const { valley } = state.input;
  const short = needed - valley;
  const from = facts.design.rails[rail]?.from ?? 'reservoir';
  if (short <= 0) return [];
  return [
    {
      finding: 'dropout-at-low-mains',
      about: rail,
      severity: 'misbehaves',
      sentence:
        `At ${mains.low.toFixed(0)} V mains and full load the valley of ${from} is ${valley.toFixed(1)} V at its input; ` +
        `${rail} needs ${needed.toFixed(1)} V (${state.setting.toFixed(2)} V and ${state.dropout.toFixed(1)} V dropout of the ${regulator.name}), so it hums.`,
      numbers: { valley_V: valley, needed_V: needed, short_V: short, mains_Vrms: mains.low },
      reason: `valley = mean - ripple below it; dropout of the ${regulator.name} datasheet`,
      cure:
        from === 'reservoir'
          ? dropoutCure(rail, needed, states)
          : `Take a regulator with a lower dropout, or set ${from} higher.`,
    },
  ];
}

/** The smallest larger reservoir and the next winding that lift the valley over what is needed, worked out again with each. */
function dropoutCure(rail: string, needed: number, { facts, fullLowWith }: AdviceStates): string {
  const lifts = (change: { readonly farads?: number; readonly windingVolts?: number }) =>
    (fullLowWith(change).rails[rail]?.input.valley ?? 0) >= needed;
  const { capacity_uF } = facts.design.reservoir;
  const reservoir = largerCapacities(capacity_uF).find((larger) => lifts({ farads: larger * 1e-6 }));
  const { ratedVolts } = facts.winding;
  const winding = [1, 2, 3, 4, 5, 6, 8, 10, 12, 15, 20]
    .map((more) => Math.floor(ratedVolts) + more)
    .find((volts) => lifts({ windingVolts: volts }));
  const cures = [
    ...(reservoir === undefined ? [] : [`a reservoir of at least ${reservoir} uF`]),
    ...(winding === undefined ? [] : [`a winding of at least ${winding} V`]),
    'a regulator with a lower dropout',
  ];
  return `Take ${cures.join(', or ')}.`;
}

/** Preferred values above a capacity, up to ten times it. */
function largerCapacities(capacity_uF: number): number[] {
  const decade = 10 ** Math.floor(Math.log10(capacity_uF));
  return [decade, 10 * decade]
    .flatMap((scale) => E12.map((digit) => Number((digit * scale).toPrecision(3))))
    .filter((larger) => larger > capacity_uF && larger <= 10 * capacity_uF);
}

/** Full load against what every sample of the regulator gives. */
export function regulatorAmpsAdvice(rail: string, { facts, full }: AdviceStates): Advice[] {
  const regulator = facts.regulators[rail];
  const amps = full.rails[rail]?.outputAmps ?? 0;
  if (!regulator || amps <= regulator.ratedAmps) return [];
  return [
    {
      finding: 'regulator-current',
      about: rail,
      severity: 'misbehaves',
      sentence: `The regulator of ${rail} gives ${amps.toFixed(2)} A at full load; a ${regulator.name} is sure of ${regulator.ratedAmps} A only, and may limit.`,
      numbers: { load_A: amps, rated_A: regulator.ratedAmps },
      reason: `output current of the ${regulator.name} datasheet`,
      cure: 'Take a stronger regulator, or split the load over two.',
    },
  ];
}

/** Idle load against what the regulator needs to stay in regulation. */
export function minimumLoadAdvice(rail: string, { facts }: AdviceStates): Advice[] {
  const regulator = facts.regulators[rail];
  const design = facts.design.rails[rail];
  if (!regulator || !design) return [];
  const divider = regulator.kind === 'adjustable' ? regulator.volts.typical / (design.r1 ?? Infinity) : 0;
  const amps = design.load.idle + divider;
  const needed = regulator.minimumLoad.high;
  if (amps >= needed) return [];
  return [
    {
      finding: 'minimum-load',
      about: rail,
      severity: 'note',
      sentence: `${rail} draws ${(amps * 1e3).toFixed(1)} mA when idle; some samples of the ${regulator.name} need ${(needed * 1e3).toFixed(0)} mA to hold their volts, and rise above without.`,
      numbers: { idle_A: amps, minimum_A: needed },
      reason: `minimum load of the ${regulator.name} datasheet, worst sample; the divider's current counts`,
      cure:
        regulator.kind === 'adjustable'
          ? 'Scale R1 and R2 down together (R1 120 ohm doubles the divider current), or add a resistor across the output.'
          : 'Add a resistor across the output.',
    },
  ];
}
