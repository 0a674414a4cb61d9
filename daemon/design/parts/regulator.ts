import type { Spread } from './spread.js';

/** A three-terminal regulator. Volts are magnitudes; `polarity` has the sign. */
export interface Regulator {
  readonly name: string;
  readonly kind: 'adjustable' | 'fixed';
  readonly polarity: 'positive' | 'negative';
  /** Adjustable: the reference between output and adjust. Fixed: the output. Over load, line and temperature, V. */
  readonly volts: Spread;
  /** Current out of the adjust pin, A; 0 for a fixed one. */
  readonly adjustAmps: Spread;
  /** Two junctions and a driver between input and output, or one junction: how the dropout moves with amps and heat. */
  readonly family: 'darlington' | 'low-drop';
  /** Least difference of input and output: `typical` at `atAmps`, `high` is what to design for, V. */
  readonly dropout: Spread & { readonly atAmps: number };
  /** Rejection of the input's ripple at twice the mains frequency, dB, at `atVolts` of output. */
  readonly rippleRejection_dB: Spread & { readonly atVolts: number };
  /** The same with 10 uF from adjust to ground; absent for a fixed one. */
  readonly rippleRejectionWithCapacitor_dB?: Spread;
  /** Load below which the output isn't held, A. */
  readonly minimumLoad: Spread;
  /** Current out of the ground pin, A; 0 for an adjustable one, whose own current goes to the output. */
  readonly quiescentAmps: Spread;
  /** Output current that every sample gives, A. */
  readonly ratedAmps: number;
  /** Typical current limit, A, at rising differences of input and output, V; straight between, flat beyond. */
  readonly currentLimit: readonly { readonly difference: number; readonly amps: number }[];
  /** Degrees C. */
  readonly junctionOperating: number;
  readonly junctionAbsolute: number;
  /** Highest input to ground, V; absent where only the difference is limited. */
  readonly highestInput?: number;
  /** Highest input to output, V. */
  readonly highestDifference?: number;
  readonly packages: readonly string[];
}

export const NONE: Spread = { low: 0, typical: 0, high: 0 };

/** Operating junction 0 to 125, absolute 150: TI LM317 SLVS044Z; TI LM340/LM7805 SNOSBT0L. */
export const SILICON = { junctionOperating: 125, junctionAbsolute: 150 };
