import { darlingtonDropout, dropoutVolts, lowDropDropout } from '../regulator/dropout.js';
import type { DropoutLaw } from '../regulator/dropout.js';
import type { RailLaw } from '../regulator/rail.js';
import { adjustableRejection, rippleShare } from '../regulator/rejection.js';
import { adjustableVolts } from '../regulator/set-volts.js';
import { efficiencyAt } from '../regulator/switching.js';
import { zenerOperatingPoint, zenerRail } from '../regulator/zener-follower.js';
import type { ParameterList } from './parameters.js';
import type {
  AdjustableDescription,
  DropoutDescription,
  FixedDescription,
  GivenDescription,
  RegulatorDescription,
  SwitchingDescription,
  Uncertain,
  ZenerDescription,
} from './supply.js';

/** What a regulator does in one draw, between its mean input and its load. */
export interface RegulatorModel {
  readonly law: RailLaw;
  /** What it draws from its output for itself: R1's current, A. */
  readonly dividerAmps: number;
  /** Ripple of its own, peak to peak, V. */
  readonly ownRipple: number;
  /** Fills `law` and the rest for a load current, the mean input volts, the input's ripple frequency and the junction. */
  fill(values: Float64Array, amps: number, meanInput: number, junction: number): void;
  /** Drawn from the input while the output gives `amps` at `meanOutput`, A. */
  inputAmps(amps: number, meanInput: number, meanOutput: number): number;
  /** Heat in the cooled part, W, of `loss` that the whole takes. */
  watts(loss: number, amps: number, meanInput: number): number;
}

/** Makes the model of a regulator; `hertz` is the ripple's frequency. */
export function regulatorModel(
  regulator: RegulatorDescription,
  hertz: number,
  list: ParameterList,
): RegulatorModel {
  switch (regulator.kind) {
    case 'adjustable':
      return new AdjustableModel(regulator, hertz, list);
    case 'fixed':
      return new FixedModel(regulator, list);
    case 'zener':
      return new ZenerModel(regulator, list);
    case 'switching':
      return new SwitchingModel(regulator, list);
    case 'given':
      return new GivenModel(regulator, list);
  }
}

type Mutable<T> = { -readonly [K in keyof T]: T[K] };

function emptyLaw(): RailLaw {
  return { setVolts: 0, feedthrough: 0, dropoutVolts: 0, quiescentAmps: 0 };
}

/** A dropout law through the drawn volts at the published current. */
class DropoutModel {
  readonly #place: number;
  readonly #atAmps: number;
  readonly #law: Mutable<DropoutLaw>;

  constructor({ volts, atAmps, family }: DropoutDescription, list: ParameterList) {
    this.#place = list.place(volts);
    this.#atAmps = atAmps;
    const point = { volts: volts.typical, amps: atAmps };
    this.#law = { ...(family === 'darlington' ? darlingtonDropout(point) : lowDropDropout(point)) };
  }

  volts(values: Float64Array, amps: number, junction: number): number {
    const law = this.#law;
    law.baseVolts = values[this.#place]! - law.perAmp * this.#atAmps;
    return dropoutVolts(law, amps, junction);
  }
}

/** Linear regulators: what goes in comes out, but for their own current. */
abstract class LinearModel {
  readonly law: RailLaw = emptyLaw();
  dividerAmps = 0;
  readonly ownRipple: number = 0;

  inputAmps(amps: number): number {
    return amps + this.law.quiescentAmps;
  }
}

class AdjustableModel extends LinearModel implements RegulatorModel {
  readonly #dropout: DropoutModel;
  readonly #hertz: number;
  readonly #places: readonly [number, number, number, number, number];
  readonly #plain: Uncertain;
  readonly #quiet: Uncertain;
  readonly #leg = { referenceVolts: 0, adjustAmps: 0, r1: 0, r2: 0 };
  readonly #published: {
    plain_dB: number;
    withCapacitor_dB: number;
    atOutputVolts: number;
    referenceVolts: number;
  };
  readonly #network: { r1: number; r2: number; capacitance: number };

  constructor(part: AdjustableDescription, hertz: number, list: ParameterList) {
    super();
    this.#dropout = new DropoutModel(part.dropout, list);
    this.#hertz = hertz;
    this.#places = [
      list.place(part.referenceVolts),
      list.place(part.adjustAmps),
      list.place(part.r1),
      list.place(part.r2),
      list.place(part.adjustFarads > 0 ? part.rejectionWithCapacitor_dB : part.rejection_dB),
    ];
    this.#plain = part.rejection_dB;
    this.#quiet = part.rejectionWithCapacitor_dB;
    this.#published = {
      plain_dB: 0,
      withCapacitor_dB: 0,
      atOutputVolts: part.rejectionAtVolts,
      referenceVolts: part.referenceVolts.typical,
    };
    this.#network = { r1: 0, r2: 0, capacitance: part.adjustFarads };
  }

  fill(values: Float64Array, amps: number, _meanInput: number, junction: number): void {
    const [reference, adjust, r1, r2, rejection] = this.#places;
    const leg = this.#leg;
    leg.referenceVolts = values[reference]!;
    leg.adjustAmps = values[adjust]!;
    this.#network.r1 = leg.r1 = values[r1]!;
    this.#network.r2 = leg.r2 = values[r2]!;
    this.#reject(values[rejection]!);
    this.dividerAmps = leg.referenceVolts / leg.r1;
    const { law } = this;
    law.setVolts = adjustableVolts(leg);
    // Beyond an open loop there is nothing to reject: a share of 1 is the input itself.
    law.feedthrough = Math.min(
      1,
      rippleShare(adjustableRejection(this.#published, this.#network, this.#hertz)),
    );
    law.dropoutVolts = this.#dropout.volts(values, amps, junction);
    // The adjust pin's 50 uA beside the load's current are left out, as in the datasheets' heat formula.
    law.quiescentAmps = 0;
  }

  watts(loss: number): number {
    return loss;
  }

  /** A sample that rejects much with an adjust capacitor does so without it: one draw moves both figures. */
  #reject(drawn_dB: number): void {
    const quiet = this.#network.capacitance > 0;
    this.#published.plain_dB = quiet ? carriedOver(drawn_dB, this.#quiet, this.#plain) : drawn_dB;
    this.#published.withCapacitor_dB = drawn_dB;
  }
}

/** The value as far from its typical as another one is from its own, in shares of the way to the end. */
function carriedOver(value: number, from: Uncertain, to: Uncertain): number {
  const end = value < from.typical ? 'low' : 'high';
  const way = from[end] - from.typical;
  return way === 0 ? to.typical : to.typical + ((value - from.typical) / way) * (to[end] - to.typical);
}

class FixedModel extends LinearModel implements RegulatorModel {
  readonly #dropout: DropoutModel;
  readonly #volts: number;
  readonly #quiescent: number;
  readonly #rejection: number;

  constructor(part: FixedDescription, list: ParameterList) {
    super();
    this.#dropout = new DropoutModel(part.dropout, list);
    this.#volts = list.place(part.volts);
    this.#quiescent = list.place(part.quiescentAmps);
    this.#rejection = list.place(part.rejection_dB);
  }

  fill(values: Float64Array, amps: number, _meanInput: number, junction: number): void {
    const { law } = this;
    law.setVolts = values[this.#volts]!;
    law.feedthrough = rippleShare(values[this.#rejection]!);
    law.dropoutVolts = this.#dropout.volts(values, amps, junction);
    law.quiescentAmps = values[this.#quiescent]!;
  }

  watts(loss: number): number {
    return loss;
  }
}

class ZenerModel extends LinearModel implements RegulatorModel {
  override readonly law: RailLaw = emptyLaw();
  readonly #part: Mutable<Parameters<typeof zenerRail>[0]>;
  readonly #places: Record<Exclude<keyof Parameters<typeof zenerRail>[0], 'zenerTestAmps'>, number>;

  constructor(part: ZenerDescription, list: ParameterList) {
    super();
    this.#places = {
      zenerVolts: list.place(part.zenerVolts),
      zenerResistance: list.place(part.zenerResistance),
      resistance: list.place(part.resistance),
      beta: list.place(part.beta),
      baseEmitterVolts: list.place(part.baseEmitterVolts),
      saturationVolts: list.place(part.saturationVolts),
    };
    this.#part = {
      zenerTestAmps: part.zenerTestAmps,
      zenerVolts: 0,
      zenerResistance: 0,
      resistance: 0,
      beta: 0,
      baseEmitterVolts: 0,
      saturationVolts: 0,
    };
  }

  fill(values: Float64Array, amps: number, meanInput: number): void {
    const part = this.#part;
    const places = this.#places;
    part.zenerVolts = values[places.zenerVolts]!;
    part.zenerResistance = values[places.zenerResistance]!;
    part.resistance = values[places.resistance]!;
    part.beta = values[places.beta]!;
    part.baseEmitterVolts = values[places.baseEmitterVolts]!;
    part.saturationVolts = values[places.saturationVolts]!;
    Object.assign(this.law, zenerRail(part, amps, meanInput));
  }

  /** The transistor's: all but what zener and resistor take. */
  watts(loss: number, amps: number, meanInput: number): number {
    const { zenerDissipation, resistorDissipation } = zenerOperatingPoint(this.#part, amps, meanInput);
    return Math.max(0, loss - zenerDissipation - resistorDissipation);
  }
}

class SwitchingModel implements RegulatorModel {
  readonly law: RailLaw = emptyLaw();
  readonly dividerAmps = 0;
  readonly ownRipple = 0;
  readonly #part: SwitchingDescription;
  readonly #places: readonly [number, number, number, number];
  #lossFactor = 1;

  constructor(part: SwitchingDescription, list: ParameterList) {
    this.#part = part;
    this.#places = [
      list.place(part.volts),
      list.place(part.dropoutVolts),
      list.place(part.rejection_dB),
      list.place(part.lossFactor),
    ];
  }

  fill(values: Float64Array): void {
    const [volts, dropout, rejection, factor] = this.#places;
    this.law.setVolts = values[volts]!;
    this.law.dropoutVolts = values[dropout]!;
    this.law.feedthrough = rippleShare(values[rejection]!);
    this.#lossFactor = values[factor]!;
  }

  /** A constant power at the mean input: (Pout + losses)/Vin, and at least the idle current for the losses. */
  inputAmps(amps: number, meanInput: number, meanOutput: number): number {
    const { efficiency, idleAmps } = this.#part;
    if (!(meanInput > 0)) return 0;
    const delivered = amps * meanOutput;
    const lost = (1 / efficiencyAt(efficiency, amps) - 1) * delivered * this.#lossFactor;
    return (delivered + Math.max(lost, idleAmps * meanInput)) / meanInput;
  }

  watts(loss: number): number {
    return loss;
  }
}

class GivenModel extends LinearModel implements RegulatorModel {
  override ownRipple = 0;
  readonly #volts: number;
  readonly #ripple: number;
  readonly #dropoutVolts: number;

  constructor(part: GivenDescription, list: ParameterList) {
    super();
    this.#volts = list.place(part.volts);
    this.#ripple = list.place(part.ripple);
    this.#dropoutVolts = part.dropoutVolts;
  }

  fill(values: Float64Array): void {
    this.law.setVolts = values[this.#volts]!;
    this.law.dropoutVolts = this.#dropoutVolts;
    this.ownRipple = values[this.#ripple]!;
  }

  /** Where its loss goes isn't known. */
  watts(): number {
    return 0;
  }
}
