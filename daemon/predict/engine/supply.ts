import type { LoadState } from '../../design/design.js';
import type { Spread } from '../../design/parts/spread.js';
import type { CurrentLimitPoint } from '../regulator/current-limit.js';
import type { EfficiencyPoint } from '../regulator/switching.js';
import type { Diode } from '../rectifier/circuit.js';
import type { HeatsinkSize } from '../thermal/heatsink-size.js';

/**
 * A number that isn't known exactly: `typical` is as written, 95 % lie between `low` and `high`. Numbers of the same
 * name are one number and are drawn together.
 */
export interface Uncertain extends Spread {
  /** `mains.volts`, `lamps.r2`. */
  readonly name: string;
}

/**
 * A whole supply, resolved to numbers: V, A, ohm, F, K/W, J/K, degrees C. Volts of negative parts are magnitudes; only
 * the outputs of the model carry their sign.
 */
export interface SupplyDescription {
  readonly name: string;
  readonly mains: MainsDescription;
  /** Air around the enclosure, degrees C. */
  readonly ambient: Uncertain;
  /** How much warmer it is inside, K. */
  readonly enclosureRise: Uncertain;
  readonly transformer: TransformerDescription;
  readonly rectifier: RectifierDescription;
  readonly reservoir: ReservoirDescription;
  /** Behind a split bridge only. */
  readonly negativeReservoir?: ReservoirDescription;
  /** Behind the positive reservoir. */
  readonly filter?: FilterDescription;
  readonly rails: readonly RailDescription[];
  /** Heatsinks that several parts share, by name. */
  readonly heatsinks: Readonly<Record<string, HeatsinkDescription>>;
}

export interface MainsDescription {
  /** What the transformer's primary is made for, RMS. */
  readonly ratedVolts: number;
  /** What the mains gives, RMS. */
  readonly volts: Uncertain;
  readonly hertz: number;
}

export interface TransformerDescription {
  readonly windings: 'single' | 'centre-tapped';
  /** At rated load, RMS; of one half when centre-tapped. */
  readonly secondaryVolts: Uncertain;
  /** RMS; of each half when centre-tapped. */
  readonly ratedAmps: number;
  /** (no-load volts - rated volts) / rated volts. */
  readonly regulation: Uncertain;
  /**
   * Resistance seen at the winding (at one half) while it conducts, as a share of regulation x volts / amps: 1 for a
   * single winding. Full-wave with a centre tap 0.75, for only one half conducts at a time.
   */
  readonly ohmsShare: number;
  /** Of leads, fuse and soft-start resistor, seen at the secondary, ohm. */
  readonly wiringOhms: number;
  /** Of a lamp in series with the primary, at the primary, ohm. */
  readonly limiterOhms?: Uncertain;
  /** Primary fuse, A. */
  readonly fuseAmps?: number;
}

export interface RectifierDescription {
  /** `split-bridge`: a bridge over a centre-tapped winding, for a positive and a negative reservoir. */
  readonly kind: 'bridge' | 'centre-tap' | 'half-wave' | 'split-bridge';
  readonly diode: Diode;
  /** By how much each diode's drop differs from its law, V. */
  readonly dropOffset: Uncertain;
  /** One of the positive reservoir's diodes doesn't conduct. */
  readonly oneDiodeOpen: boolean;
}

export interface ReservoirDescription {
  readonly farads: Uncertain;
  readonly esr: Uncertain;
  /** Across it all the time, ohm; Infinity for none. */
  readonly bleedOhms: number;
  /** Drawn straight from it. */
  readonly load: LoadDescription;
  readonly workingVolts?: number;
  /** Ripple-current rating, RMS. */
  readonly rippleAmps?: number;
}

/** What is drawn in each state of the load. */
export type LoadDescription = Readonly<Record<LoadState, Load>>;

/** A constant current and a resistance side by side. */
export interface Load {
  readonly amps: Uncertain;
  /** Infinity for none. */
  readonly ohms: number;
}

export type FilterDescription = MultiplierDescription | RcDescription;

/** A capacitance multiplier. */
export interface MultiplierDescription {
  readonly kind: 'multiplier';
  readonly follower: FollowerDescription;
  /** From the reservoir to base or gate, ohm. */
  readonly resistance: Uncertain;
  /** From base or gate to ground, F. */
  readonly capacitance: Uncertain;
  /** Across the capacitor, ohm; Infinity for none. */
  readonly dividerOhms: number;
  readonly load: LoadDescription;
  readonly cooling: CoolingDescription;
  /** Hottest junction the pass device is rated for, degrees C. */
  readonly junctionLimit: number;
  /** The pass device conducts all the time. */
  readonly shorted: boolean;
}

export type FollowerDescription =
  | {
      /** A Darlington pair's figures are those of the pair. */
      readonly kind: 'bipolar' | 'darlington';
      readonly beta: Uncertain;
      /** At the load's current, V. */
      readonly baseEmitterVolts: Uncertain;
      readonly saturationVolts: Uncertain;
    }
  | {
      readonly kind: 'mosfet';
      /** At the load's current, V. */
      readonly gateSourceVolts: Uncertain;
      readonly onResistance: Uncertain;
    };

/** A resistor and a second capacitor. */
export interface RcDescription {
  readonly kind: 'rc';
  readonly resistance: Uncertain;
  readonly capacitance: Uncertain;
  readonly esr: Uncertain;
  readonly load: LoadDescription;
}

export interface RailDescription {
  readonly name: string;
  readonly polarity: 'positive' | 'negative';
  /** `reservoir`, `negative-reservoir`, `filter`, or the name of another rail. */
  readonly from: string;
  /** Resistor before the regulator that takes some of its heat, ohm; 0 for none. */
  readonly seriesOhms: number;
  readonly regulator: RegulatorDescription;
  /** The regulator has failed short and passes its input. */
  readonly passesInput: boolean;
  readonly cooling: CoolingDescription;
  readonly load: LoadDescription;
  /** Volts that harm the load. */
  readonly damage: { readonly low?: number; readonly high?: number };
}

export type RegulatorDescription =
  AdjustableDescription | FixedDescription | ZenerDescription | SwitchingDescription | GivenDescription;

/** What adjustable and fixed linear regulators have in common; low-drop ones differ by their dropout. */
interface LinearDescription {
  readonly dropout: DropoutDescription;
  /** Load below which the output isn't held, A. */
  readonly minimumLoadAmps: number;
  /** In rising difference of input and output; empty for none known. */
  readonly currentLimit: readonly CurrentLimitPoint[];
  /** Hottest junction it is rated for, degrees C. */
  readonly junctionLimit: number;
}

export interface DropoutDescription {
  /** Least input-output difference at `atAmps` and a junction of 25 degrees C, V. */
  readonly volts: Uncertain;
  readonly atAmps: number;
  readonly family: 'darlington' | 'low-drop';
}

export interface AdjustableDescription extends LinearDescription {
  readonly kind: 'adjustable';
  readonly referenceVolts: Uncertain;
  readonly adjustAmps: Uncertain;
  /** Output to adjust, ohm. */
  readonly r1: Uncertain;
  /** Adjust to ground, ohm. */
  readonly r2: Uncertain;
  /** Adjust to ground, F; 0 for none. */
  readonly adjustFarads: number;
  /** Published without and with an adjust capacitor, dB, both at `atOutputVolts`. */
  readonly rejection_dB: Uncertain;
  readonly rejectionWithCapacitor_dB: Uncertain;
  readonly rejectionAtVolts: number;
}

export interface FixedDescription extends LinearDescription {
  readonly kind: 'fixed';
  readonly volts: Uncertain;
  /** Out of the ground pin, A. */
  readonly quiescentAmps: Uncertain;
  readonly rejection_dB: Uncertain;
}

/** A zener diode that holds the base of a bipolar follower. */
export interface ZenerDescription {
  readonly kind: 'zener';
  /** At `zenerTestAmps`, V. */
  readonly zenerVolts: Uncertain;
  readonly zenerTestAmps: number;
  readonly zenerResistance: Uncertain;
  /** Input to base, ohm. */
  readonly resistance: Uncertain;
  readonly beta: Uncertain;
  readonly baseEmitterVolts: Uncertain;
  readonly saturationVolts: Uncertain;
  readonly junctionLimit: number;
}

/** A switching module. */
export interface SwitchingDescription {
  readonly kind: 'switching';
  readonly volts: Uncertain;
  /** Least input minus output, V. */
  readonly dropoutVolts: Uncertain;
  readonly rejection_dB: Uncertain;
  readonly efficiency: readonly EfficiencyPoint[];
  /** Factor on the losses, around 1. */
  readonly lossFactor: Uncertain;
  /** Drawn from the input at no load, A. */
  readonly idleAmps: number;
  readonly junctionLimit: number;
}

/** A regulator that isn't modelled: its volts are as given, its heat unknown. */
export interface GivenDescription {
  readonly kind: 'given';
  readonly volts: Uncertain;
  /** Peak to peak, V. */
  readonly ripple: Uncertain;
  /** Least input minus output, V. */
  readonly dropoutVolts: number;
}

/** How a part sheds its heat. */
export interface CoolingDescription {
  readonly package: PackageDescription;
  /** What the package sits on; null for a bare package. */
  readonly mounting: MountingDescription | null;
  /** What a probe on the case reads: air + contact x (case - air). 1 sits tight, 0 hangs in the air. */
  readonly probeContact: number;
}

export interface PackageDescription {
  /** K/W. */
  readonly junctionToCase: Uncertain;
  /** Without a heatsink, K/W. */
  readonly junctionToAir: Uncertain;
  /** J/K. */
  readonly junctionCapacity: number;
  readonly caseCapacity: Uncertain;
}

export interface MountingDescription {
  /** Case to heatsink, K/W. */
  readonly interface: Uncertain;
  /** Its own, or the name of a shared one. */
  readonly heatsink: HeatsinkDescription | string;
  /** False when the heatsink was left out: the package is bare then. */
  readonly fitted: boolean;
}

export type HeatsinkDescription = RatedHeatsink | SizedHeatsink;

export interface RatedHeatsink {
  readonly kind: 'rated';
  /** K/W. */
  readonly toAir: Uncertain;
  /** J/K. */
  readonly capacity: Uncertain;
}

/** Worked out from its measures. */
export interface SizedHeatsink {
  readonly kind: 'sized';
  readonly size: HeatsinkSize;
  /** Factor on its K/W, around 1. */
  readonly factor: Uncertain;
}
