import { steadyTemperatures } from './case-temperature.js';
import { regulatorWatts } from './dissipation.js';
import {
  asSource,
  behindResistor,
  dropoutAt,
  railMean,
  railRipple,
  rejectionAt,
  settingVolts,
  type InputVolts,
} from './rail-volts.js';
import { rawDc, type RawCircuit, type RawDc } from './raw-dc.js';
import type { Supply, SupplyFacts } from './supply.js';

/** One rail of a supply whose every value is known. */
export interface RailState {
  /** At the regulator's input, behind its series resistor. */
  readonly input: InputVolts;
  /** What the regulator is set to, V. */
  readonly setting: number;
  readonly dropout: number;
  readonly volts: number;
  readonly ripple: number;
  readonly dissipation: number;
  readonly case: number;
  readonly junction: number;
  /** Out of the regulator: the load, its own divider and the rails that it feeds, A. */
  readonly outputAmps: number;
  /** Heat in the series resistor, W. */
  readonly seriesWatts: number;
}

/** A whole supply whose every value is known, in the steady state. */
export interface SupplyState {
  readonly circuit: RawCircuit;
  readonly raw: RawDc;
  readonly ambient: number;
  /** Air around the regulators, degrees C. */
  readonly air: number;
  readonly rails: Readonly<Record<string, RailState>>;
}

/** Works a supply out from mains to cases: raw DC under all rails' currents, then each rail on it. */
export function workOut(facts: SupplyFacts, supply: Supply<number>): SupplyState {
  const { circuit } = supply;
  const rawCircuit = rawCircuitOf(facts, supply, drawnFrom('reservoir', facts, supply));
  const raw = rawDc(rawCircuit);
  const air = circuit.ambient + circuit.enclosureRise;
  const rails: Record<string, RailState> = {};
  for (const name of facts.order) {
    const from = facts.design.rails[name]?.from ?? 'reservoir';
    const feeding = rails[from];
    const source = feeding === undefined ? raw : asSource(feeding.volts, feeding.ripple, feeding.setting);
    rails[name] = railState(name, facts, supply, source, air);
  }
  return { circuit: rawCircuit, raw, ambient: circuit.ambient, air, rails };
}

const SOLVED_AS = { bridge: 'bridge', 'centre-tap': 'centre-tapped', 'half-wave': 'half-wave' } as const;

function rawCircuitOf(
  { design, winding, diode }: SupplyFacts,
  { circuit }: Supply<number>,
  amps: number,
): RawCircuit {
  const mainsShare = circuit.mainsVolts / design.mains.volts;
  return {
    kind: SOLVED_AS[design.rectifier.kind],
    oneDiodeOpen: false,
    peakVolts: circuit.windingVolts * (1 + circuit.regulation) * Math.SQRT2 * mainsShare,
    seriesOhms: (winding.ohmsShare * circuit.regulation * circuit.windingVolts) / winding.ratedAmps,
    hertz: design.mains.hertz,
    diode,
    diodeOffset: circuit.diodeOffset,
    farads: circuit.farads,
    esr: circuit.esr,
    amps,
    loadOhms: design.reservoir.bleed ?? Infinity,
  };
}

function railOf(name: string, supply: Supply<number>) {
  const rail = supply.rails[name];
  if (rail === undefined) throw new RangeError(`there is no rail "${name}"`);
  return rail;
}

function regulatorOf(name: string, facts: SupplyFacts) {
  const regulator = facts.regulators[name];
  if (regulator === undefined) throw new RangeError(`there is no rail "${name}"`);
  return regulator;
}

/** All that the rails fed from one place draw, A. */
function drawnFrom(place: string, facts: SupplyFacts, supply: Supply<number>): number {
  let amps = 0;
  for (const name of facts.order) {
    if (facts.design.rails[name]?.from === place) amps += inputAmps(name, facts, supply);
  }
  return amps;
}

/** Out of the regulator, A: the load, the divider's Vref / R1 of an adjustable one, and the rails that it feeds. */
function outputAmps(name: string, facts: SupplyFacts, supply: Supply<number>): number {
  const rail = railOf(name, supply);
  const divider = regulatorOf(name, facts).kind === 'adjustable' ? rail.volts / rail.r1 : 0;
  return rail.loadAmps + divider + drawnFrom(name, facts, supply);
}

function inputAmps(name: string, facts: SupplyFacts, supply: Supply<number>): number {
  return outputAmps(name, facts, supply) + railOf(name, supply).groundAmps;
}

function railState(
  name: string,
  facts: SupplyFacts,
  supply: Supply<number>,
  source: InputVolts,
  air: number,
): RailState {
  const rail = railOf(name, supply);
  const regulator = regulatorOf(name, facts);
  const adjustable = regulator.kind === 'adjustable';
  const { r1, r2, adjustAmps } = rail;
  const setting = settingVolts({ volts: rail.volts, ...(adjustable && { divider: { r1, r2, adjustAmps } }) });
  const amps = outputAmps(name, facts, supply);
  const dropout = dropoutAt(amps, rail.dropout, regulator.dropout.atAmps);
  const capacitor = facts.design.rails[name]?.adjust_capacitor_uF !== undefined;
  const rejection =
    adjustable && !capacitor
      ? rejectionAt(setting, rail.rejection_dB, regulator.rippleRejection_dB.atVolts)
      : rail.rejection_dB;
  const inputCurrent = amps + rail.groundAmps;
  const series = facts.design.rails[name]?.series ?? 0;
  const input = behindResistor(source, inputCurrent, series);
  const volts = railMean(setting, input.valley, input.peak, dropout);
  const watts = regulatorWatts(input.mean, volts, amps, rail.groundAmps);
  const ripple = railRipple(setting, input, dropout, rejection);
  return {
    input,
    seriesWatts: inputCurrent ** 2 * series,
    setting,
    dropout,
    volts,
    ripple,
    dissipation: watts,
    outputAmps: amps,
    ...steadyTemperatures(watts, air, rail),
  };
}
