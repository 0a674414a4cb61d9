import { wrightOmega } from './wright-omega.js';
import type { RectifierCircuit, RectifierKind } from './circuit.js';
import { RectifierError, chargesOncePerCycle, diodesInPath } from './circuit.js';

/** What stays the same over a batch of circuits. */
export interface RectifierForm {
  readonly kind: RectifierKind;
  readonly oneDiodeOpen: boolean;
  readonly law: 'shockley' | 'fixed-drop';
}

/** Columns of one circuit in a batch. Diode: drop and slope, or saturation current, resistance and n·Vt. */
export const CIRCUIT = {
  hertz: 0,
  emfPeak: 1,
  seriesResistance: 2,
  capacitance: 3,
  capacitorResistance: 4,
  loadCurrent: 5,
  loadResistance: 6,
  diodeDropOrSaturationCurrent: 7,
  diodeResistance: 8,
  diodeEmissionVoltage: 9,
  columns: 10,
} as const;

/** Writes a circuit's numbers into row `row` of a batch. */
export function writeCircuit(circuit: RectifierCircuit, rows: Float64Array, row: number): void {
  const at = row * CIRCUIT.columns;
  const { diode } = circuit;
  rows[at + CIRCUIT.hertz] = circuit.hertz;
  rows[at + CIRCUIT.emfPeak] = circuit.emfPeak;
  rows[at + CIRCUIT.seriesResistance] = circuit.seriesResistance;
  rows[at + CIRCUIT.capacitance] = circuit.capacitance;
  rows[at + CIRCUIT.capacitorResistance] = circuit.capacitorResistance;
  rows[at + CIRCUIT.loadCurrent] = circuit.loadCurrent;
  rows[at + CIRCUIT.loadResistance] = circuit.loadResistance;
  const shockley = diode.law === 'shockley';
  rows[at + CIRCUIT.diodeDropOrSaturationCurrent] = shockley ? diode.saturationCurrent : diode.forwardDrop;
  rows[at + CIRCUIT.diodeResistance] = shockley ? diode.seriesResistance : diode.slopeResistance;
  rows[at + CIRCUIT.diodeEmissionVoltage] = shockley ? diode.emissionCoefficient * diode.thermalVoltage : 0;
}

/**
 * A circuit reduced to what the equations need; angle = omega·t in radians is the time.
 *
 * With the capacitor's own volts y, its resistance r, load I0 + G·v and k = 1/(1 + r·G):
 * node v = k·(y + r·(i - I0)), y' = kappa·(i - I0 - G·y), kappa = k/(omega·C), and the current obeys
 * E·sin(angle) - k·y + k·r·I0 = u = A·i + junction(i), A = Rs + diodes + k·r. While the node is held
 * at 0 V by a constant-current load it can't feed, u = E·sin(angle) and A loses its last term.
 */
export interface Path {
  shockley: boolean;
  onceACycle: boolean;
  kind: RectifierKind;
  diodes: number;
  /** pi, or 2·pi when only every second pulse charges. */
  period: number;
  omega: number;
  emf: number;
  source: number;
  capacitance: number;
  r: number;
  current: number;
  conductance: number;
  k: number;
  kappa: number;
  /** kappa·G: decay rate while no current arrives. */
  gamma: number;
  /** Decay rate of y while the node is held at 0 V; Infinity without capacitor resistance. */
  clampRate: number;
  resistance: number;
  clampResistance: number;
  diodeResistance: number;
  /** n·Vt·diodes, 0 under the fixed-drop law. */
  junction: number;
  saturation: number;
  /** Diodes' fixed drop, 0 under the junction law. */
  drop: number;
  omegaShift: number;
  /** junction / resistance (A for each unit of omega) and 1 / junction. */
  perOmega: number;
  perJunction: number;
  clampOmegaShift: number;
  /** Rough mean current and the change of y that it makes in a period: scales for tolerances. */
  scaleCurrent: number;
  scaleVolts: number;
  /** Current and u at which conduction is taken to begin and end. */
  onsetCurrent: number;
  onsetVolts: number;
}

/** A path with every field present, filled by `reduce`. */
export function emptyPath(): Path {
  return {
    shockley: false,
    onceACycle: false,
    kind: 'bridge',
    diodes: 2,
    period: 0.5,
    omega: 0.5,
    emf: 0.5,
    source: 0.5,
    capacitance: 0.5,
    r: 0.5,
    current: 0.5,
    conductance: 0.5,
    k: 0.5,
    kappa: 0.5,
    gamma: 0.5,
    clampRate: 0.5,
    resistance: 0.5,
    clampResistance: 0.5,
    diodeResistance: 0.5,
    junction: 0.5,
    saturation: 0.5,
    drop: 0.5,
    omegaShift: 0.5,
    perOmega: 0.5,
    perJunction: 0.5,
    clampOmegaShift: 0.5,
    scaleCurrent: 0.5,
    scaleVolts: 0.5,
    onsetCurrent: 0.5,
    onsetVolts: 0.5,
  };
}

/** Share of the mean load current below which a junction counts as not conducting. */
const ONSET_SHARE = 1e-3;

/** Fills `path` from row `row`; throws when a number can't be a circuit. */
export function reduce(path: Path, form: RectifierForm, rows: Float64Array, row: number): void {
  checkRow(form, rows, row);
  const at = row * CIRCUIT.columns;
  const emf = rows[at + CIRCUIT.emfPeak]!;
  const r = rows[at + CIRCUIT.capacitorResistance]!;
  path.kind = form.kind;
  path.shockley = form.law === 'shockley';
  path.onceACycle = chargesOncePerCycle(form.kind, form.oneDiodeOpen);
  path.period = path.onceACycle ? 2 * Math.PI : Math.PI;
  path.diodes = diodesInPath(form.kind);
  path.omega = 2 * Math.PI * rows[at + CIRCUIT.hertz]!;
  path.emf = emf;
  path.source = rows[at + CIRCUIT.seriesResistance]!;
  path.capacitance = rows[at + CIRCUIT.capacitance]!;
  path.r = r;
  path.current = rows[at + CIRCUIT.loadCurrent]!;
  path.conductance = 1 / rows[at + CIRCUIT.loadResistance]!;
  path.k = 1 / (1 + r * path.conductance);
  path.kappa = path.k / (path.omega * path.capacitance);
  path.gamma = path.kappa * path.conductance;
  path.clampRate = 1 / (r * path.omega * path.capacitance);
  path.diodeResistance = path.diodes * rows[at + CIRCUIT.diodeResistance]!;
  path.clampResistance = path.source + path.diodeResistance;
  path.resistance = path.clampResistance + path.k * r;
  reduceDiode(
    path,
    rows[at + CIRCUIT.diodeDropOrSaturationCurrent]!,
    rows[at + CIRCUIT.diodeEmissionVoltage]!,
  );
}

function reduceDiode(path: Path, dropOrSaturation: number, emissionVoltage: number): void {
  const { shockley, diodes } = path;
  path.junction = shockley ? diodes * emissionVoltage : 0;
  path.saturation = shockley ? dropOrSaturation : 0;
  path.drop = shockley ? 0 : diodes * dropOrSaturation;
  if (shockley) {
    path.omegaShift = omegaShift(path.resistance, path);
    path.perOmega = path.junction / path.resistance;
    path.perJunction = 1 / path.junction;
    path.clampOmegaShift = omegaShift(path.clampResistance, path);
  }
  path.scaleCurrent = Math.min(path.current + path.conductance * path.emf, mostCurrent(path));
  path.scaleVolts = Math.min(path.emf, path.kappa * path.period * path.scaleCurrent);
  path.onsetCurrent = shockley ? ONSET_SHARE * path.scaleCurrent : 0;
  path.onsetVolts = path.drop;
  if (!shockley) return;
  path.onsetVolts =
    path.resistance * path.onsetCurrent + path.junction * Math.log1p(path.onsetCurrent / path.saturation);
}

/** Into a short circuit at the crest. */
function mostCurrent(path: Path): number {
  const { junction, clampResistance } = path;
  if (!path.shockley) return Math.max(0, path.emf - path.drop) / clampResistance;
  const omega = wrightOmega(path.emf / junction + path.clampOmegaShift);
  return Math.max(0, (junction / clampResistance) * omega - path.saturation);
}

function omegaShift(resistance: number, path: Path): number {
  const share = (resistance * path.saturation) / path.junction;
  return share + Math.log(share);
}

const mustBePositive = ['hertz', 'emfPeak', 'seriesResistance', 'capacitance', 'loadResistance'] as const;
const mayBeZero = ['capacitorResistance', 'loadCurrent', 'diodeResistance'] as const;

function checkRow(form: RectifierForm, rows: Float64Array, row: number): void {
  const at = row * CIRCUIT.columns;
  for (const name of mustBePositive) {
    const value = rows[at + CIRCUIT[name]]!;
    if (!(value > 0) || (value === Infinity && name !== 'loadResistance'))
      refuse(form, rows, row, name, 'above 0');
  }
  for (const name of mayBeZero) {
    if (!isFrom0(rows[at + CIRCUIT[name]]!)) refuse(form, rows, row, name, '0 or more');
  }
  const diode = rows[at + CIRCUIT.diodeDropOrSaturationCurrent]!;
  if (!isFrom0(diode)) refuse(form, rows, row, 'diodeDropOrSaturationCurrent', '0 or more');
  if (form.law === 'fixed-drop') return;
  if (diode === 0) refuse(form, rows, row, 'diodeDropOrSaturationCurrent', 'above 0');
  if (!(rows[at + CIRCUIT.diodeEmissionVoltage]! > 0))
    refuse(form, rows, row, 'diodeEmissionVoltage', 'above 0');
}

function isFrom0(value: number): boolean {
  return value >= 0 && value < Infinity;
}

function refuse(
  form: RectifierForm,
  rows: Float64Array,
  row: number,
  name: Exclude<keyof typeof CIRCUIT, 'columns'>,
  rule: string,
): never {
  const value = rows[row * CIRCUIT.columns + CIRCUIT[name]]!;
  throw new RectifierError(
    'rectifier-input',
    `${name} must be finite and ${rule}, got ${value}`,
    describeRow(form, rows, row),
  );
}

/** Every input of a batch's row on one line, for error messages. */
export function describeRow(form: RectifierForm, rows: Float64Array, row: number): string {
  const numbers = Object.entries(CIRCUIT)
    .filter(([name]) => name !== 'columns')
    .map(([name, column]) => `${name}=${rows[row * CIRCUIT.columns + column]}`);
  return [
    `row=${row}`,
    `kind=${form.kind}`,
    `oneDiodeOpen=${form.oneDiodeOpen}`,
    `law=${form.law}`,
    ...numbers,
  ].join(' ');
}
