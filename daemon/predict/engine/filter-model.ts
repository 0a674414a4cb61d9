import type { LoadState } from '../../design/design.js';
import type { BipolarFollower, Follower, FollowerFigures, MosfetFollower } from '../follower/follower.js';
import {
  emptyFollowerFigures,
  followerWorkspace,
  reservoirLoad,
  solveFollower,
} from '../follower/follower.js';
import type { FollowerWorkspace } from '../follower/follower.js';
import type { PeriodicWaveform } from '../follower/periodic-waveform.js';
import { measureWaveform } from '../follower/periodic-waveform.js';
import type { OutputLoad, RcFilter, RcFilterFigures } from '../follower/rc-filter.js';
import { emptyRcFilterFigures, heldTogether, solveRcFilter } from '../follower/rc-filter.js';
import { CoolingModel } from './cooling-model.js';
import type { Feed } from './feed.js';
import type { ParameterList } from './parameters.js';
import type { FilterDescription, MultiplierDescription, RcDescription } from './supply.js';

/** A filter behind the positive reservoir. */
export interface FilterModel extends Feed {
  readonly kind: FilterDescription['kind'];
  readonly cooling: CoolingModel | null;
  /** Peak to peak, V. */
  readonly ripple: number;
  /** Its own load: what it drew last, A. */
  readonly loadAmps: number;
  /** What the rails behind it drew when it was solved last, A. */
  readonly railAmps: number;
  /** What it hangs on the reservoir: a constant current (A) and a conductance (1/ohm). */
  readonly inputAmps: number;
  readonly inputSiemens: number;
  /** Heat in the pass device or resistor, W. */
  readonly watts: number;
  /** Least input minus output over what saturates the pass device, V; Infinity for an RC filter. */
  readonly headroom: number;
  /** s */
  readonly timeConstant: number;
  /** The capacitor (F) that would do for a reservoir of so many farads with this filter beside it. */
  heldTogether(values: Float64Array, farads: number, hertz: number): number;
  /** Forgets the last solve: the load is what `railAmps` and the filter's own load draw at `volts`. */
  restart(values: Float64Array, volts: number): void;
  /** Answers the feed's waveform with the rails behind it drawing `railAmps`. */
  solve(values: Float64Array, feed: Feed, railAmps: number): void;
}

/** Makes the model of a filter in a load state. */
export function filterModel(
  filter: FilterDescription,
  load: LoadState,
  samples: number,
  list: ParameterList,
): FilterModel {
  return filter.kind === 'rc'
    ? new RcModel(filter, load, samples, list)
    : new MultiplierModel(filter, load, samples, list);
}

/** Of a pass device that has failed short (from memory: a fused die and its bond wires), ohm. */
const SHORTED_OHMS = 0.1;
/** Below this the base resistor's own ripple current is felt by the reservoir, ohm: see `solveFollower`. */
const FELT_OHMS = 300;

type Mutable<T> = { -readonly [K in keyof T]: T[K] };

/** What both kinds of filter do alike: waveform and load. */
abstract class FilterBase {
  mean = 0;
  valley = 0;
  peak = 0;
  ripple = 0;
  loadAmps = 0;
  railAmps = 0;
  inputAmps = 0;
  inputSiemens = 0;
  protected readonly hung: Mutable<OutputLoad>;
  readonly #ownAmps: number;
  readonly #ownOhms: number;

  constructor(load: { readonly ownAmps: number; readonly ownOhms: number }) {
    this.#ownAmps = load.ownAmps;
    this.#ownOhms = load.ownOhms;
    this.hung = { amps: 0, ohms: load.ownOhms };
  }

  restart(values: Float64Array, volts: number): void {
    this.loadAmps = values[this.#ownAmps]! + volts / this.#ownOhms;
    this.mean = volts;
    this.inputAmps = NaN;
    this.inputSiemens = 0;
  }

  protected hang(values: Float64Array, railAmps: number): OutputLoad {
    this.railAmps = railAmps;
    this.hung.amps = values[this.#ownAmps]! + railAmps;
    return this.hung;
  }

  protected take(values: Float64Array, figures: FollowerFigures | RcFilterFigures): void {
    this.mean = figures.meanVolts;
    this.valley = figures.valleyVolts;
    this.peak = figures.peakVolts;
    this.ripple = figures.ripplePeakToPeak;
    this.loadAmps = values[this.#ownAmps]! + this.mean / this.#ownOhms;
  }
}

class RcModel extends FilterBase implements FilterModel {
  readonly kind = 'rc';
  readonly cooling = null;
  readonly headroom = Infinity;
  readonly #figures: RcFilterFigures = emptyRcFilterFigures();
  readonly #output: Float64Array;
  readonly #filter: Mutable<RcFilter> = { resistance: 0, capacitance: 0, esr: 0 };
  readonly #places: Record<keyof RcFilter, number>;
  #wave: PeriodicWaveform | null = null;

  constructor(filter: RcDescription, load: LoadState, samples: number, list: ParameterList) {
    super({ ownAmps: list.place(filter.load[load].amps), ownOhms: filter.load[load].ohms });
    this.#output = new Float64Array(samples);
    this.#places = {
      resistance: list.place(filter.resistance),
      capacitance: list.place(filter.capacitance),
      esr: list.place(filter.esr),
    };
  }

  get watts(): number {
    return this.#figures.dissipation;
  }

  get timeConstant(): number {
    return this.#figures.timeConstant;
  }

  heldTogether(values: Float64Array, farads: number, hertz: number): number {
    return heldTogether(farads, this.#read(values), hertz);
  }

  solve(values: Float64Array, feed: Feed, railAmps: number): void {
    const input = feed.wave();
    solveRcFilter(input, this.#read(values), this.hang(values, railAmps), this.#output, this.#figures);
    this.take(values, this.#figures);
    this.inputAmps = this.#figures.reservoirAmps;
    this.#wave = { ...input, volts: this.#output };
  }

  wave(): PeriodicWaveform {
    return solved(this.#wave);
  }

  #read(values: Float64Array): RcFilter {
    this.#filter.resistance = values[this.#places.resistance]!;
    this.#filter.capacitance = values[this.#places.capacitance]!;
    this.#filter.esr = values[this.#places.esr]!;
    return this.#filter;
  }
}

class MultiplierModel extends FilterBase implements FilterModel {
  readonly kind = 'multiplier';
  readonly cooling: CoolingModel;
  readonly #shorted: boolean;
  readonly #figures: FollowerFigures = emptyFollowerFigures();
  readonly #workspace: FollowerWorkspace;
  readonly #fill: (values: Float64Array) => Follower;
  #wave: PeriodicWaveform | null = null;

  constructor(filter: MultiplierDescription, load: LoadState, samples: number, list: ParameterList) {
    super({ ownAmps: list.place(filter.load[load].amps), ownOhms: filter.load[load].ohms });
    this.#shorted = filter.shorted;
    this.#workspace = followerWorkspace(samples);
    this.#fill = followerFiller(filter, list);
    this.cooling = new CoolingModel(filter.cooling, list);
  }

  get watts(): number {
    return this.#figures.dissipation;
  }

  get headroom(): number {
    return this.#figures.headroom;
  }

  /** Its base network is too small to be felt as a capacitor. */
  heldTogether(_values: Float64Array, farads: number): number {
    return farads;
  }

  get timeConstant(): number {
    return this.#figures.timeConstant;
  }

  solve(values: Float64Array, feed: Feed, railAmps: number): void {
    const input = feed.wave();
    const load = this.hang(values, railAmps);
    const follower = this.#fill(values);
    solveFollower(input, follower, load, this.#workspace, this.#figures);
    if (this.#shorted) this.#pass(input, load, feed.mean);
    this.take(values, this.#figures);
    this.#wave = { ...input, volts: this.#workspace.output };
    this.inputAmps = this.#figures.reservoirAmps;
    this.inputSiemens = 0;
    if (this.#shorted || follower.network.resistance >= FELT_OHMS) return;
    const felt = reservoirLoad(follower, this.#figures, feed.mean);
    if (felt.amps < 0) return;
    this.inputAmps = felt.amps;
    this.inputSiemens = 1 / felt.ohms;
  }

  wave(): PeriodicWaveform {
    return solved(this.#wave);
  }

  /** Output is the input less what the fused device drops. */
  #pass(input: PeriodicWaveform, load: OutputLoad, meanInput: number): void {
    const figures = this.#figures;
    const amps = (load.amps + meanInput / load.ohms) / (1 + SHORTED_OHMS / load.ohms);
    const { output } = this.#workspace;
    for (let k = 0; k < output.length; k += 1) output[k] = Math.max(0, input.volts[k]! - amps * SHORTED_OHMS);
    measureWaveform(output, input.spacings, figures);
    figures.meanDrop = meanInput - figures.meanVolts;
    figures.headroom = 0;
    figures.dissipation = figures.meanDrop * amps;
    figures.reservoirAmps = amps;
  }
}

/** Reads a follower out of a draw into the same object every time. */
function followerFiller(
  filter: MultiplierDescription,
  list: ParameterList,
): (values: Float64Array) => Follower {
  const { follower } = filter;
  const network = { resistance: 0, capacitance: 0, divider: filter.dividerOhms };
  const resistance = list.place(filter.resistance);
  const capacitance = list.place(filter.capacitance);
  const fillNetwork = (values: Float64Array): void => {
    network.resistance = values[resistance]!;
    network.capacitance = values[capacitance]!;
  };
  if (follower.kind === 'mosfet') {
    const threshold = list.place(follower.gateSourceVolts);
    const onResistance = list.place(follower.onResistance);
    const mosfet: Mutable<MosfetFollower> = { kind: 'mosfet', network, gateSourceVolts: 0, onResistance: 0 };
    return (values) => {
      fillNetwork(values);
      mosfet.gateSourceVolts = values[threshold]!;
      mosfet.onResistance = values[onResistance]!;
      return mosfet;
    };
  }
  const beta = list.place(follower.beta);
  const baseEmitter = list.place(follower.baseEmitterVolts);
  const saturation = list.place(follower.saturationVolts);
  const bipolar: Mutable<BipolarFollower> = {
    kind: 'bipolar',
    law: follower.kind === 'darlington' ? 'clamp' : 'junction',
    network,
    beta: 0,
    baseEmitterVolts: 0,
    saturationVolts: 0,
  };
  return (values) => {
    fillNetwork(values);
    bipolar.beta = values[beta]!;
    bipolar.baseEmitterVolts = values[baseEmitter]!;
    bipolar.saturationVolts = values[saturation]!;
    return bipolar;
  };
}

function solved(wave: PeriodicWaveform | null): PeriodicWaveform {
  if (wave === null) throw new Error("a filter's waveform was asked for before it was solved");
  return wave;
}
