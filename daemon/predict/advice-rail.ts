import { ampsAt } from '../design/design-load.js';
import { E12 } from '../design/parts/series.js';
import { windingOf } from '../design/parts/transformers.js';
import type { AdviceStates } from './advice.js';
import { partWords, regulatorOf } from './part-words.js';
import type { Advice } from './prediction.js';

/** Ripple valley against setting and dropout at full load on the lowest mains. */
export function dropoutAdvice(rail: string, states: AdviceStates): Advice[] {
  const { design, mains, fullLow } = states;
  const state = fullLow.rails.get(rail);
  if (state === undefined) return [];
  const needed = state.setVolts + state.dropoutVolts;
  const valley = state.inputValley;
  const short = needed - valley;
  const from = design.rails[rail]?.from ?? 'reservoir';
  if (short <= 0) return [];
  const part = partWords(rail, design);
  return [
    {
      finding: 'dropout-at-low-mains',
      about: rail,
      severity: 'misbehaves',
      sentence:
        `At ${mains.low.toFixed(0)} V mains and full load the valley of ${from} is ${valley.toFixed(1)} V at its input; ` +
        `${rail} needs ${needed.toFixed(1)} V (${state.setVolts.toFixed(2)} V and ${state.dropoutVolts.toFixed(1)} V dropout of the ${part}), so it hums.`,
      numbers: { valley_V: valley, needed_V: needed, short_V: short, mains_Vrms: mains.low },
      reason: `valley = mean - ripple below it; dropout of the ${part} datasheet`,
      cure: Object.hasOwn(design.rails, from)
        ? `Take a regulator with a lower dropout, or set ${from} higher.`
        : dropoutCure(rail, needed, from === 'negative-reservoir', states),
    },
  ];
}

/** The smallest larger reservoir and the next winding that lift the valley over what is needed, worked out again with each. */
function dropoutCure(
  rail: string,
  needed: number,
  isNegative: boolean,
  { design, fullLowWith }: AdviceStates,
): string {
  const lifts = (change: Readonly<Record<string, number>>) =>
    (fullLowWith(change).rails.get(rail)?.inputValley ?? 0) >= needed;
  const { capacity_uF } = (isNegative && design.negative_reservoir) || design.reservoir;
  const farads = isNegative ? 'negative-reservoir.farads' : 'farads';
  const reservoir = largerCapacities(capacity_uF).find((larger) => lifts({ [farads]: larger * 1e-6 }));
  const { ratedVolts } = windingOf(design.transformer, design.rectifier.kind);
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
export function regulatorAmpsAdvice(rail: string, { design, full }: AdviceStates): Advice[] {
  const regulator = regulatorOf(rail, design);
  const amps = full.rails.get(rail)?.outputAmps ?? 0;
  if (regulator === null || amps <= regulator.ratedAmps) return [];
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
export function minimumLoadAdvice(rail: string, { design, full }: AdviceStates): Advice[] {
  const regulator = regulatorOf(rail, design);
  const written = design.rails[rail];
  const volts = full.rails.get(rail)?.setVolts;
  if (regulator === null || written === undefined || volts === undefined) return [];
  const divider = regulator.kind === 'adjustable' ? regulator.volts.typical / (written.r1 ?? Infinity) : 0;
  const amps = ampsAt(written.load.idle, volts) + divider;
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
