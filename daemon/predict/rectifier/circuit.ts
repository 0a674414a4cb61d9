/** How the winding is rectified. `centre-tapped` is full-wave with two diodes and two half windings. */
export type RectifierKind = 'bridge' | 'centre-tapped' | 'half-wave';

/** Junction law n·Vt·ln(1 + i/Is) + rs·i (W. Shockley, Bell System Technical Journal 28, 1949). */
export interface ShockleyDiode {
  readonly law: 'shockley';
  readonly saturationCurrent: number;
  /** n, 1 to about 2. */
  readonly emissionCoefficient: number;
  /** Vt = kT/q, 25.85 mV at 300 K. */
  readonly thermalVoltage: number;
  readonly seriesResistance: number;
}

/** Forward drop + slope·i, blocking below the drop. */
export interface FixedDropDiode {
  readonly law: 'fixed-drop';
  readonly forwardDrop: number;
  readonly slopeResistance: number;
}

export type Diode = ShockleyDiode | FixedDropDiode;

/** Everything that decides the waveform at the reservoir. SI units: V, A, ohm, F. */
export interface RectifierCircuit {
  readonly kind: RectifierKind;
  /** One diode of a bridge or of a centre-tapped pair open: every second pulse is missing. */
  readonly oneDiodeOpen: boolean;
  readonly hertz: number;
  /** Amplitude of the secondary's no-load volts; of one half when centre-tapped. */
  readonly emfPeak: number;
  /** Winding (primary reflected) and wiring, without diodes; of one half when centre-tapped. */
  readonly seriesResistance: number;
  readonly diode: Diode;
  readonly capacitance: number;
  readonly capacitorResistance: number;
  /** Drawn at the node whatever its volts, until the node reaches 0 V. */
  readonly loadCurrent: number;
  /** Across the node; `Infinity` for none. */
  readonly loadResistance: number;
}

/** Says which circuit was refused or not solved, with all of its inputs. */
export class RectifierError extends Error {
  override readonly name = 'RectifierError';
  readonly code: 'rectifier-input' | 'rectifier-unsolved';
  constructor(code: 'rectifier-input' | 'rectifier-unsolved', what: string, circuit: string) {
    super(`rectifier: ${what}; circuit: ${circuit}`);
    this.code = code;
  }
}

/** Diodes that the current passes on its way to the reservoir. */
export function diodesInPath(kind: RectifierKind): 1 | 2 {
  return kind === 'bridge' ? 2 : 1;
}

/** One charging pulse a mains cycle instead of two. */
export function chargesOncePerCycle(kind: RectifierKind, oneDiodeOpen: boolean): boolean {
  return kind === 'half-wave' || oneDiodeOpen;
}

/** Every input on one line, for error messages. */
export function describeCircuit(circuit: RectifierCircuit): string {
  const { diode, ...rest } = circuit;
  return [...Object.entries(rest), ...Object.entries(diode)]
    .map(([key, value]) => `${key}=${value}`)
    .join(' ');
}
