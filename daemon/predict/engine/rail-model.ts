import type { LoadState } from '../../design/design.js';
import type { PeriodicWaveform } from '../follower/periodic-waveform.js';
import { measureWaveform } from '../follower/periodic-waveform.js';
import { currentLimit, limitedVolts } from '../regulator/current-limit.js';
import type { CurrentLimitPoint } from '../regulator/current-limit.js';
import { emptyRailFigures, solveRail } from '../regulator/rail.js';
import type { RailFigures, RailLaw } from '../regulator/rail.js';
import { CoolingModel } from './cooling-model.js';
import type { Feed } from './feed.js';
import type { ParameterList } from './parameters.js';
import { regulatorModel } from './regulator-model.js';
import type { RegulatorModel } from './regulator-model.js';
import type { RailDescription } from './supply.js';

/** What a failed-short regulator still puts in the way, ohm (from memory: a fused die and its bond wires). */
const SHORTED_OHMS = 0.15;

/** Of the set volts; keeps a rail without input divisible. */
const LEAST_REACH = 1e-3;

/** A regulator between what feeds it and its load; magnitudes. */
export class RailModel implements Feed {
  readonly description: RailDescription;
  readonly regulator: RegulatorModel;
  /** Null where its heat isn't known. */
  readonly cooling: CoolingModel | null;
  readonly input: Feed;
  /** The rails that it feeds. */
  readonly fed: RailModel[] = [];
  mean = 0;
  valley = 0;
  peak = 0;
  ripple = 0;
  /** At the regulator's input, behind the series resistor, V. */
  inputMean = 0;
  inputValley = 0;
  /** Least input minus dropout minus set volts, V. */
  headroom = 0;
  /** Out of the regulator: load, divider and fed rails, A. */
  outputAmps = 0;
  /** What the load itself draws, A. */
  loadAmps = 0;
  inputAmps = 0;
  /** All that goes in and doesn't come out, without the series resistor, W. */
  loss = 0;
  /** Heat in the cooled part, W. */
  watts = 0;
  readonly #load: { readonly amps: number; readonly ohms: number };
  readonly #limit: readonly CurrentLimitPoint[];
  readonly #inputWave: Float64Array;
  readonly #output: Float64Array;
  readonly #figures: RailFigures = emptyRailFigures();
  readonly #shape: RailLaw = { setVolts: 0, feedthrough: 0, dropoutVolts: 0, quiescentAmps: 0 };
  #wave: PeriodicWaveform | null = null;
  #set = 0;
  #wantedAmps = 0;
  /** The set volts, or what the input leaves of them, V. */
  #reachVolts = 0;
  /** Share of the load's current that the current limit lets through. */
  #limitShare = 1;

  constructor(
    rail: RailDescription,
    load: LoadState,
    feed: { readonly from: Feed; readonly samples: number; readonly hertz: number },
    list: ParameterList,
  ) {
    const { regulator } = rail;
    this.description = rail;
    this.input = feed.from;
    this.regulator = regulatorModel(regulator, feed.hertz, list);
    this.cooling = regulator.kind === 'given' ? null : new CoolingModel(rail.cooling, list);
    this.#load = { amps: list.place(rail.load[load].amps), ohms: rail.load[load].ohms };
    this.#limit = 'currentLimit' in regulator ? regulator.currentLimit : [];
    this.#inputWave = new Float64Array(feed.samples);
    this.#output = new Float64Array(feed.samples);
  }

  get setVolts(): number {
    return this.regulator.law.setVolts;
  }

  get dropoutVolts(): number {
    return this.regulator.law.dropoutVolts;
  }

  /** Drops what an earlier draw left behind; the input's mean has its first guess. */
  restart(values: Float64Array): void {
    this.#limitShare = 1;
    this.regulator.fill(values, 0, this.input.mean, 25);
    const passed = Math.max(0, this.input.mean - this.regulator.law.dropoutVolts);
    this.#reachVolts = Math.min(this.setVolts, passed);
    this.mean = this.description.passesInput ? this.input.mean : this.#reachVolts;
    this.inputMean = this.input.mean;
  }

  /** Currents at the volts of the last round; those of the rails that it feeds must be up to date. */
  draw(values: Float64Array): void {
    const amps = values[this.#load.amps]!;
    const wanted = amps + this.#reachVolts / this.#load.ohms;
    let others = this.regulator.dividerAmps;
    for (const rail of this.fed) others += rail.inputAmps;
    this.loadAmps = this.#limitShare < 1 ? wanted * this.#limitShare : amps + this.mean / this.#load.ohms;
    this.#wantedAmps = wanted + others;
    this.outputAmps = this.loadAmps + others;
    this.inputAmps = this.description.passesInput
      ? this.outputAmps
      : this.regulator.inputAmps(this.outputAmps, this.inputMean, this.mean);
  }

  /** Volts and heat at these currents, and with this junction. */
  solve(values: Float64Array, junction: number): void {
    const { regulator, input, outputAmps, description } = this;
    const drop = this.inputAmps * description.seriesOhms;
    this.inputMean = Math.max(0, input.mean - drop);
    this.inputValley = input.valley - drop;
    this.#wave = null;
    regulator.fill(values, outputAmps, this.inputMean, junction);
    const { law } = regulator;
    this.headroom = this.inputValley - law.dropoutVolts - law.setVolts;
    if (description.passesInput) this.#pass(drop);
    else {
      this.#set = this.#limited(law);
      const held = this.#set + law.feedthrough * (this.inputValley - this.inputMean);
      if (held <= this.inputValley - law.dropoutVolts) this.#hold(law, input.peak - drop);
      else this.#sample();
    }
    this.loss = this.inputMean * this.inputAmps - this.mean * outputAmps;
    this.watts = regulator.watts(this.loss, outputAmps, this.inputMean);
  }

  wave(): PeriodicWaveform {
    if (this.#wave === null) {
      if (this.description.passesInput) this.#samplePassed();
      else this.#sample();
    }
    return this.#wave!;
  }

  /** The set volts, or less where the load wants more than the current limit gives. */
  #limited(law: RailLaw): number {
    const reach = Math.min(
      law.setVolts,
      Math.max(LEAST_REACH * law.setVolts, this.inputMean - law.dropoutVolts),
    );
    this.#reachVolts = reach;
    if (this.#limit.length === 0) return law.setVolts;
    const wanted = this.#wantedAmps;
    if (!(wanted > currentLimit(this.#limit, this.inputMean - reach))) {
      this.#limitShare = 1;
      return law.setVolts;
    }
    // A load at the limit is taken as the resistance that draws its current at the volts within reach.
    const volts = limitedVolts(this.#limit, reach, this.inputMean, reach / wanted);
    this.#limitShare = Math.max(1e-3, volts / reach);
    return volts;
  }

  /** In regulation all the time: the closed form of what `solveRail` works out on samples. */
  #hold(law: RailLaw, inputPeak: number): void {
    const own = this.regulator.ownRipple / 2;
    this.mean = this.#set;
    this.valley = this.#set + law.feedthrough * (this.inputValley - this.inputMean) - own;
    this.peak = this.#set + law.feedthrough * (inputPeak - this.inputMean) + own;
    this.ripple = this.peak - this.valley;
  }

  #pass(drop: number): void {
    const lost = drop + this.outputAmps * SHORTED_OHMS;
    if (this.input.valley - lost < 0) return this.#samplePassed();
    this.mean = this.input.mean - lost;
    this.valley = this.input.valley - lost;
    this.peak = this.input.peak - lost;
    this.ripple = this.peak - this.valley;
  }

  #samplePassed(): void {
    const { volts, spacings, period } = this.input.wave();
    const lost = this.inputAmps * this.description.seriesOhms + this.outputAmps * SHORTED_OHMS;
    for (let k = 0; k < volts.length; k += 1) this.#output[k] = Math.max(0, volts[k]! - lost);
    measureWaveform(this.#output, spacings, this.#figures);
    this.#take(0);
    this.#wave = { volts: this.#output, spacings, period };
  }

  #sample(): void {
    const { volts, spacings, period } = this.input.wave();
    const drop = this.inputAmps * this.description.seriesOhms;
    for (let k = 0; k < volts.length; k += 1) this.#inputWave[k] = Math.max(0, volts[k]! - drop);
    Object.assign(this.#shape, this.regulator.law);
    this.#shape.setVolts = this.#set;
    const input = { volts: this.#inputWave, spacings, period };
    solveRail(input, this.#shape, this.outputAmps, this.#output, this.#figures);
    this.#take(this.regulator.ownRipple);
    this.#wave = { volts: this.#output, spacings, period };
  }

  #take(ownRipple: number): void {
    const { meanVolts, valleyVolts, peakVolts } = this.#figures;
    this.mean = meanVolts;
    this.valley = valleyVolts - ownRipple / 2;
    this.peak = peakVolts + ownRipple / 2;
    this.ripple = this.peak - this.valley;
  }
}
