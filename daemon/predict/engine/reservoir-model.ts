import type { PeriodicWaveform } from '../follower/periodic-waveform.js';
import { evenWaveform, pinExtremes } from '../follower/periodic-waveform.js';
import type { Diode, RectifierCircuit, RectifierKind } from '../rectifier/circuit.js';
import { chargesOncePerCycle } from '../rectifier/circuit.js';
import { SOLUTION } from '../rectifier/measure.js';
import type { Workspace } from '../rectifier/pieces.js';
import { createWorkspace } from '../rectifier/pieces.js';
import type { Waveform } from '../rectifier/steady-state.js';
import { sampleInto, solveCircuit } from '../rectifier/steady-state.js';
import type { Feed } from './feed.js';
import type { FilterModel } from './filter-model.js';
import type { ParameterList } from './parameters.js';
import { SupplyError } from './supply-error.js';
import type { ReservoirDescription, SupplyDescription } from './supply.js';

/** Samples of one period. With the extremes pinned, twice as many move a rail in dropout by less than 0.1 mV. */
export const RIPPLE_SAMPLES = 192;

/** Of a split bridge's ohms, the secondary half's, and the primary's share for each polarity's current. */
const SPLIT_SECONDARY = 0.5;
const SPLIT_PRIMARY = 0.25;
/** A hardly loaded polarity sees the other's drop as ohms of its own; beyond this share they tell nothing. */
const MOST_OTHER_SHARE = 20;

type Mutable<T> = { -readonly [K in keyof T]: T[K] };

/** What the solver reports; see `SOLUTION` for the names and `SteadyState` for their meanings. */
export type SolvedNumber = Exclude<keyof typeof SOLUTION, 'columns'>;

const SOLVED_AS: Readonly<Record<SupplyDescription['rectifier']['kind'], RectifierKind>> = {
  bridge: 'bridge',
  'centre-tap': 'centre-tapped',
  'half-wave': 'half-wave',
  // Each polarity of a split bridge is a full-wave rectifier with a centre tap, one diode in the path.
  'split-bridge': 'centre-tapped',
};

/** What hangs on the node: a constant current (A) and a conductance (1/ohm), and the other polarity's over this one's. */
interface Drawn {
  readonly amps: number;
  readonly siemens: number;
  readonly otherShare: number;
}

/** Winding, rectifier and one reservoir. */
export class ReservoirModel implements Feed {
  mean = 0;
  valley = 0;
  peak = 0;
  /** Drawn from the node as solved last: a constant current (A) and a conductance (1/ohm), the bleed counted in. */
  amps = NaN;
  siemens = NaN;
  /** s, of the ripple. */
  readonly period: number;
  readonly circuit: Mutable<RectifierCircuit>;
  readonly #supply: string;
  readonly #label: string;
  readonly #ratedMains: number;
  readonly #transformer: SupplyDescription['transformer'];
  readonly #split: boolean;
  readonly #diode: Diode;
  readonly #space: Workspace = createWorkspace();
  readonly #sampled: Waveform;
  readonly #wave: PeriodicWaveform;
  readonly #places: Record<'mains' | 'secondary' | 'regulation' | 'dropOffset' | 'farads' | 'esr', number>;
  /** Place of the limiter's ohms; null without one. */
  readonly #limiter: number | null;
  #isSampled = false;
  #esr = NaN;
  /** The reservoir's own part of the capacitor in `circuit`. */
  #ownShare = 1;

  constructor(
    supply: SupplyDescription,
    label: 'reservoir' | 'negative-reservoir',
    part: ReservoirDescription,
    list: ParameterList,
  ) {
    const { mains, transformer, rectifier } = supply;
    const kind = SOLVED_AS[rectifier.kind];
    const oneDiodeOpen = rectifier.oneDiodeOpen && label === 'reservoir';
    this.#supply = supply.name;
    this.#label = label;
    this.#ratedMains = mains.ratedVolts;
    this.#transformer = transformer;
    this.#split = rectifier.kind === 'split-bridge';
    this.#diode = rectifier.diode;
    this.circuit = {
      kind,
      oneDiodeOpen,
      hertz: mains.hertz,
      emfPeak: NaN,
      seriesResistance: NaN,
      diode: { ...rectifier.diode },
      capacitance: NaN,
      capacitorResistance: NaN,
      loadCurrent: NaN,
      loadResistance: NaN,
    };
    this.#places = {
      mains: list.place(mains.volts),
      secondary: list.place(transformer.secondaryVolts),
      regulation: list.place(transformer.regulation),
      dropOffset: list.place(rectifier.dropOffset),
      farads: list.place(part.farads),
      esr: list.place(part.esr),
    };
    const { limiterOhms } = transformer;
    this.#limiter = limiterOhms === undefined ? null : list.place(limiterOhms);
    const turns = chargesOncePerCycle(kind, oneDiodeOpen) ? 1 : 2;
    this.period = 1 / (turns * mains.hertz);
    this.#sampled = {
      degrees: Float64Array.from({ length: RIPPLE_SAMPLES }, (_, k) => (360 * k) / (RIPPLE_SAMPLES * turns)),
      volts: new Float64Array(RIPPLE_SAMPLES),
      rectifiedCurrent: new Float64Array(RIPPLE_SAMPLES),
    };
    this.#wave = evenWaveform(this.#sampled.volts, this.period);
  }

  /**
   * Solves the node for this draw. `otherShare` is the other polarity's current over this one's in a split bridge;
   * `filter` is what holds the ripple down beside the reservoir.
   * @throws {SupplyError} naming the circuit when it has no steady state.
   */
  solve(
    values: Float64Array,
    { amps, siemens, otherShare }: Drawn,
    filter: Pick<FilterModel, 'heldTogether'> | null,
  ): void {
    const { circuit } = this;
    const places = this.#places;
    const secondary = values[places.secondary]!;
    const regulation = values[places.regulation]!;
    this.amps = amps;
    this.siemens = siemens;
    circuit.emfPeak = (Math.SQRT2 * secondary * (1 + regulation) * values[places.mains]!) / this.#ratedMains;
    const turns = (secondary * (1 + regulation)) / this.#ratedMains;
    circuit.seriesResistance =
      this.#seriesOhms((regulation * secondary) / this.#transformer.ratedAmps, otherShare) +
      this.#limiterOhms(values, turns, otherShare);
    circuit.diode = shiftedDiode(this.#diode, values[places.dropOffset]!);
    const farads = values[places.farads]!;
    this.#esr = values[places.esr]!;
    circuit.capacitance = filter?.heldTogether(values, farads, 1 / this.period) ?? farads;
    this.#ownShare = farads / circuit.capacitance;
    circuit.capacitorResistance = this.#esr * this.#ownShare;
    circuit.loadCurrent = amps;
    circuit.loadResistance = 1 / siemens;
    try {
      solveCircuit(circuit, this.#space);
    } catch (cause) {
      const why = cause instanceof Error ? cause.message : String(cause);
      throw new SupplyError('supply-unsolved', this.#supply, `${this.#label}: ${why}`, { cause });
    }
    this.mean = this.solved('meanVolts');
    this.valley = this.solved('valleyVolts');
    this.peak = this.solved('peakVolts');
    this.#isSampled = false;
  }

  /** A number of the last solve, in its unit. */
  solved(name: SolvedNumber): number {
    const value = this.#space.solution[SOLUTION[name]]!;
    const isOwn = name === 'capacitorRmsCurrent' || name === 'capacitorDissipation';
    return isOwn ? value * this.#ownShare : value;
  }

  /** The circuit as solved last without what a filter holds: at switch-on its resistor keeps its capacitor away. */
  unfiltered(): RectifierCircuit {
    const { circuit } = this;
    return {
      ...circuit,
      capacitance: circuit.capacitance * this.#ownShare,
      capacitorResistance: this.#esr,
    };
  }

  wave(): PeriodicWaveform {
    if (!this.#isSampled) {
      sampleInto(this.#space, this.#sampled);
      pinExtremes(this.#sampled.volts, this.valley, this.peak);
      this.#isSampled = true;
    }
    return this.#wave;
  }

  /**
   * In a split bridge both polarities' currents pass the primary at once. With copper losses split evenly and the
   * regulation stated for both loaded alike (common practice), half of the ohms is the half winding's, and a quarter
   * the primary's, which each polarity feels for its own current and for the other's.
   */
  #seriesOhms(ohms: number, otherShare: number): number {
    const { ohmsShare, wiringOhms } = this.#transformer;
    if (!this.#split) return ohmsShare * ohms + wiringOhms;
    const primary = SPLIT_PRIMARY * (1 + Math.min(MOST_OTHER_SHARE, otherShare));
    return ohms * (SPLIT_SECONDARY + primary) + wiringOhms;
  }

  /** Seen through the turns ratio squared; both polarities of a split bridge pass the primary at once. */
  #limiterOhms(values: Float64Array, turns: number, otherShare: number): number {
    if (this.#limiter === null) return 0;
    const both = this.#split ? 1 + Math.min(MOST_OTHER_SHARE, otherShare) : 1;
    return values[this.#limiter]! * turns * turns * both;
  }
}

/** The law moved by `offset` volts: a junction's saturation current by exp(-offset / (n Vt)) (Shockley 1949). */
function shiftedDiode(diode: Diode, offset: number): Diode {
  if (offset === 0) return diode;
  if (diode.law === 'fixed-drop') {
    return { ...diode, forwardDrop: Math.max(0, diode.forwardDrop + offset) };
  }
  const moved = Math.exp(-offset / (diode.emissionCoefficient * diode.thermalVoltage));
  return { ...diode, saturationCurrent: diode.saturationCurrent * moved };
}
