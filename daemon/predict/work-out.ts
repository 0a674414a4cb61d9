import { steadyTemperatures } from './case-temperature.js';
import { regulatorWatts } from './dissipation.js';
import { dropoutAt, railMean, railRipple, rejectionAt, settingVolts } from './rail-volts.js';
import { rawDc, type RawDc } from './raw-dc.js';
import type { Supply, SupplyFacts } from './supply.js';

/** One rail of a supply whose every value is known. */
export interface RailState {
  /** What the regulator is set to, V. */
  readonly setting: number;
  readonly dropout: number;
  readonly volts: number;
  readonly ripple: number;
  readonly dissipation: number;
  readonly case: number;
  readonly junction: number;
  /** Out of the regulator: the load and its own divider, A. */
  readonly outputAmps: number;
}

/** A whole supply whose every value is known, in the steady state. */
export interface SupplyState {
  readonly raw: RawDc;
  readonly ambient: number;
  /** Air around the regulators, degrees C. */
  readonly air: number;
  readonly rails: Readonly<Record<string, RailState>>;
}

/** Works a supply out from mains to cases: raw DC under all rails' currents, then each rail on it. */
export function workOut(facts: SupplyFacts, supply: Supply<number>): SupplyState {
  const { circuit } = supply;
  const names = Object.keys(supply.rails);
  const raw = solveRaw(
    facts,
    supply,
    names.reduce((sum, name) => sum + inputAmps(name, facts, supply), 0),
  );
  const air = circuit.ambient + circuit.enclosureRise;
  const rails = Object.fromEntries(names.map((name) => [name, railState(name, facts, supply, raw, air)]));
  return { raw, ambient: circuit.ambient, air, rails };
}

const SOLVED_AS = { bridge: 'bridge', 'centre-tap': 'centre-tapped', 'half-wave': 'half-wave' } as const;

function solveRaw({ design, winding, diode }: SupplyFacts, { circuit }: Supply<number>, amps: number): RawDc {
  const mainsShare = circuit.mainsVolts / design.mains.volts;
  return rawDc({
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
  });
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

/** Out of the regulator, A: the load, and the divider's Vref / R1 of an adjustable one. */
function outputAmps(name: string, facts: SupplyFacts, supply: Supply<number>): number {
  const rail = railOf(name, supply);
  const divider = regulatorOf(name, facts).kind === 'adjustable' ? rail.volts / rail.r1 : 0;
  return rail.loadAmps + divider;
}

function inputAmps(name: string, facts: SupplyFacts, supply: Supply<number>): number {
  return outputAmps(name, facts, supply) + railOf(name, supply).groundAmps;
}

function railState(
  name: string,
  facts: SupplyFacts,
  supply: Supply<number>,
  raw: RawDc,
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
  const volts = railMean(setting, raw.valley, raw.peak, dropout);
  const watts = regulatorWatts(raw.mean, volts, amps, rail.groundAmps);
  const ripple = railRipple(setting, raw, dropout, rejection);
  return {
    setting,
    dropout,
    volts,
    ripple,
    dissipation: watts,
    outputAmps: amps,
    ...steadyTemperatures(watts, air, rail),
  };
}
