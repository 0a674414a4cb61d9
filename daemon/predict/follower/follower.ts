import { collectorJunction, drainThroughJunction, emitterDrop } from './junction.js';
import type { CollectorJunction } from './junction.js';
import { holdBelow, periodicLowPass } from './low-pass.js';
import type { LowPass } from './low-pass.js';
import { emptyWaveformFigures, measureWaveform } from './periodic-waveform.js';
import type { PeriodicWaveform, WaveformFigures } from './periodic-waveform.js';
import type { OutputLoad } from './rc-filter.js';

/** A resistor from the reservoir to the base or gate, a capacitor from there to ground. */
export interface BaseNetwork {
  /** Ohm, above zero. */
  readonly resistance: number;
  /** F, above zero. */
  readonly capacitance: number;
  /** Across the capacitor, to buy headroom, ohm; Infinity for none. */
  readonly divider: number;
}

/**
 * A bipolar follower. Once the valley reaches it, `junction` solves both junctions of one transistor;
 * `clamp` pins the output `saturationVolts` below the input, which also holds for a Darlington pair
 * (`baseEmitterVolts` of both, `saturationVolts` of the pair) and for a datasheet's saturation figure.
 */
export interface BipolarFollower {
  readonly kind: 'bipolar';
  readonly law: 'junction' | 'clamp';
  readonly network: BaseNetwork;
  readonly beta: number;
  /** At the load's current, V. */
  readonly baseEmitterVolts: number;
  /** Collector to emitter when saturated, V. */
  readonly saturationVolts: number;
}

/** A MOSFET follower: it passes the reservoir's dips, output = min(gate − Vgs, input − I·Rds). */
export interface MosfetFollower {
  readonly kind: 'mosfet';
  readonly network: BaseNetwork;
  /** At the load's current, V. */
  readonly gateSourceVolts: number;
  /** Ohm. */
  readonly onResistance: number;
}

export type Follower = BipolarFollower | MosfetFollower;

export interface FollowerFigures extends WaveformFigures {
  /** Mean of input minus output, V. */
  meanDrop: number;
  /** Least input minus output over what saturates it, as if it never did, V; negative when it runs short. */
  headroom: number;
  /** Share of the period within its saturation volts. */
  saturatedFraction: number;
  /** Heat in the pass device, W. */
  dissipation: number;
  /** Mean current into base or gate, A. */
  baseAmps: number;
  /** Mean current taken from the reservoir: load and divider, A. */
  reservoirAmps: number;
  /** Time constant of the rise after switch-on, s. */
  timeConstant: number;
  /** The base drop is larger than the supply: the load gets nothing for part of the period. */
  starved: boolean;
}

/** Buffers for followers on waveforms of one length; reused from draw to draw. */
export interface FollowerWorkspace {
  readonly base: Float64Array;
  /** The output waveform after a solve, V, on the instants of the input. */
  readonly output: Float64Array;
}

export function followerWorkspace(samples: number): FollowerWorkspace {
  return { base: new Float64Array(samples), output: new Float64Array(samples) };
}

export function emptyFollowerFigures(): FollowerFigures {
  return {
    ...emptyWaveformFigures(),
    meanDrop: 0,
    headroom: 0,
    saturatedFraction: 0,
    dissipation: 0,
    baseAmps: 0,
    reservoirAmps: 0,
    timeConstant: 0,
    starved: false,
  };
}

/**
 * Periodic answer of a follower behind a reservoir, left in `workspace.output` and `figures`.
 *
 * The base takes I/(β + 1) while not saturated. To the reservoir the whole is close to a constant `reservoirAmps`,
 * which already holds the base current. That leaves out the ripple in the base resistor (`reservoirLoad` has it) and
 * what the base capacitor carries of the load while saturated: together, in a saturating 1 A follower with 100 ohm and
 * 1000 µF, 0.06 % of the reservoir's mean and 0.4 % of its ripple, which is 2.5 % of the output's ripple.
 */
export function solveFollower(
  wave: PeriodicWaveform,
  follower: Follower,
  load: OutputLoad,
  workspace: FollowerWorkspace,
  figures: FollowerFigures,
): void {
  const { base, output } = workspace;
  const network = loadedNetwork(follower, load);
  periodicLowPass(wave, network, base);
  const shift = follower.kind === 'bipolar' ? follower.baseEmitterVolts : follower.gateSourceVolts;
  const amps = load.amps + Math.max(0, meanOfSamples(base) - shift) / load.ohms;
  const saturation = follower.kind === 'bipolar' ? follower.saturationVolts : amps * follower.onResistance;
  figures.headroom = leastClearance(wave.volts, base) + shift - saturation;
  if (follower.kind === 'mosfet') mosfetOutput(wave.volts, base, follower, load, output);
  else bipolarOutput(wave, follower, network, amps, figures.headroom, workspace);
  figures.timeConstant = network.timeConstant;
  fillFigures(wave, follower.network, load, saturation, workspace, figures);
}

/**
 * What a solved follower hangs on the reservoir, for a closer second solve of it at mean input volts `meanInput`: the
 * base resistor as such, and a constant current that keeps the mean. Worth it below some 300 ohm. A reservoir
 * solver that takes no negative current needs `reservoirAmps` alone where the resistor's share is larger.
 */
export function reservoirLoad(follower: Follower, figures: FollowerFigures, meanInput: number): OutputLoad {
  const ohms = follower.network.resistance;
  return { amps: figures.reservoirAmps - meanInput / ohms, ohms };
}

/** The low pass that the base network makes with what the load takes from it while not saturated. */
function loadedNetwork(follower: Follower, load: OutputLoad): LowPass {
  const { resistance, capacitance, divider } = follower.network;
  let conductance = 1 / resistance + 1 / divider;
  let current = 0;
  if (follower.kind === 'bipolar') {
    const gain = follower.beta + 1;
    conductance += 1 / (load.ohms * gain);
    current = (load.amps - follower.baseEmitterVolts / load.ohms) / gain;
  }
  return {
    timeConstant: capacitance / conductance,
    gain: 1 / (resistance * conductance),
    offset: -current / conductance,
  };
}

function bipolarOutput(
  wave: PeriodicWaveform,
  follower: BipolarFollower,
  network: LowPass,
  amps: number,
  headroom: number,
  workspace: FollowerWorkspace,
): void {
  const { base, output } = workspace;
  const { baseEmitterVolts, saturationVolts } = follower;
  if (follower.law === 'junction' && amps > 0) {
    const junction = collectorJunction(amps, follower.beta, baseEmitterVolts, follower.network.capacitance);
    drainThroughJunction(wave, network, junction, base);
    junctionOutput(wave.volts, base, junction, output);
    return;
  }
  if (headroom < 0) holdBelow(wave, network, baseEmitterVolts - saturationVolts, base);
  for (let k = 0; k < base.length; k++) output[k] = Math.max(0, base[k]! - baseEmitterVolts);
}

function junctionOutput(
  volts: Float64Array,
  base: Float64Array,
  junction: CollectorJunction,
  output: Float64Array,
): void {
  for (let k = 0; k < base.length; k++) {
    output[k] = Math.max(0, base[k]! - emitterDrop(junction, base[k]! - volts[k]!));
  }
}

function mosfetOutput(
  volts: Float64Array,
  gate: Float64Array,
  follower: MosfetFollower,
  load: OutputLoad,
  output: Float64Array,
): void {
  const { gateSourceVolts, onResistance } = follower;
  const share = 1 / (1 + onResistance / load.ohms);
  for (let k = 0; k < gate.length; k++) {
    const passed = (volts[k]! - onResistance * load.amps) * share;
    const followed = gate[k]! - gateSourceVolts;
    output[k] = Math.max(0, followed < passed ? followed : passed);
  }
}

/**
 * Heat is (v − out)·I less base current times (v − base), for the base current falls only from base to
 * emitter. The base current comes from the charge balance of the base capacitor, in saturation too.
 */
function fillFigures(
  wave: PeriodicWaveform,
  network: BaseNetwork,
  load: OutputLoad,
  saturation: number,
  workspace: FollowerWorkspace,
  figures: FollowerFigures,
): void {
  const { volts, spacings, period } = wave;
  const { base, output } = workspace;
  const count = output.length;
  const conductance = 1 / network.resistance;
  const leg = 1 / network.divider;
  let drop = 0;
  let heat = 0;
  let saturated = 0;
  let baseCharge = 0;
  let legCharge = 0;
  let charge = 0;
  for (let k = 0; k < count; k++) {
    const next = k + 1 < count ? k + 1 : 0;
    const spacing = spacings[k]!;
    const dropHere = volts[k]! - output[k]!;
    const dropNext = volts[next]! - output[next]!;
    const middleBase = (base[k]! + base[next]!) / 2;
    const aboveBase = (volts[k]! + volts[next]!) / 2 - middleBase;
    const intoBase =
      (aboveBase * conductance - middleBase * leg) * spacing - network.capacitance * (base[next]! - base[k]!);
    const ampsHere = load.amps + output[k]! / load.ohms;
    const ampsNext = load.amps + output[next]! / load.ohms;
    drop += (dropHere + dropNext) * spacing;
    heat += (dropHere * ampsHere + dropNext * ampsNext) * spacing - 2 * intoBase * aboveBase;
    charge += (ampsHere + ampsNext) * spacing;
    baseCharge += intoBase;
    legCharge += middleBase * leg * spacing;
    if (dropHere <= saturation + 1e-9) saturated += spacing;
  }
  measureWaveform(output, spacings, figures);
  figures.meanDrop = drop / (2 * period);
  figures.dissipation = heat / (2 * period);
  figures.saturatedFraction = saturated / period;
  figures.baseAmps = baseCharge / period;
  figures.reservoirAmps = charge / (2 * period) + legCharge / period;
  figures.starved = figures.valleyVolts <= 0;
}

function leastClearance(volts: Float64Array, base: Float64Array): number {
  let least = Infinity;
  for (let k = 0; k < base.length; k++) {
    const clearance = volts[k]! - base[k]!;
    if (clearance < least) least = clearance;
  }
  return least;
}

function meanOfSamples(samples: Float64Array): number {
  let sum = 0;
  for (let k = 0; k < samples.length; k++) sum += samples[k]!;
  return sum / samples.length;
}
