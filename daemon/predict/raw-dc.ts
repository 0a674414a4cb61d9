import { THERMAL_VOLTS, type DiodeLaw } from '../design/parts/diodes.js';
import type { RectifierCircuit, RectifierKind } from './rectifier/circuit.js';
import { createWorkspace } from './rectifier/pieces.js';
import { solveRectifier } from './rectifier/steady-state.js';

/** A winding, its rectifier and a reservoir under load. */
export interface RawCircuit {
  readonly kind: RectifierKind;
  readonly oneDiodeOpen: boolean;
  /** Peak of the unloaded secondary, V; of one half when centre-tapped. */
  readonly peakVolts: number;
  /** All resistance seen at the secondary, ohm; at one half when centre-tapped. */
  readonly seriesOhms: number;
  readonly hertz: number;
  readonly diode: DiodeLaw;
  /** By how much each diode differs from its law, V. */
  readonly diodeOffset: number;
  readonly farads: number;
  readonly esr: number;
  /** Drawn from the reservoir whatever its volts, A. */
  readonly amps: number;
  /** Across the reservoir, ohm; `Infinity` for none. */
  readonly loadOhms: number;
}

/** What the reservoir, the diodes and the winding carry in the steady state. */
export interface RawDc {
  readonly mean: number;
  readonly valley: number;
  readonly peak: number;
  /** Peak to peak, V. */
  readonly ripple: number;
  /** RMS of the AC part, V. */
  readonly rippleRms: number;
  /** Amplitudes of the ripple at the mains frequency and at twice that, V. */
  readonly rippleAtMains: number;
  readonly rippleAtTwiceMains: number;
  /** Drawn from the reservoir on average, A. */
  readonly amps: number;
  /** Secondary RMS, A; of one half when centre-tapped. */
  readonly secondaryRms: number;
  /** Peak of the charging pulses, A. */
  readonly pulsePeak: number;
  /** One charging pulse, mains degrees. */
  readonly conduction_deg: number;
  readonly capacitorRms: number;
  /** Heat in one diode, in all of them, in the windings and in the capacitor, W. */
  readonly diodeWatts: number;
  readonly allDiodesWatts: number;
  readonly windingWatts: number;
  readonly capacitorWatts: number;
  /** The winding can't deliver the current all the time. */
  readonly starved: boolean;
}

/** A reservoir leaks at least this much, A (from memory); below it nothing changes. */
const LEAST_AMPS = 1e-5;

const space = createWorkspace();

/**
 * The exact periodic steady state of a reservoir: see rectifier/steady-state.ts for the method and its sources. A
 * diode's offset moves its saturation current by exp(-offset / (n Vt)), which shifts the whole law by the offset.
 * @throws {RectifierError} naming every input when there is no solution.
 */
export function rawDc(circuit: RawCircuit): RawDc {
  const solved = solveRectifier(rectifierCircuit(circuit), space);
  return {
    mean: solved.meanVolts,
    valley: solved.valleyVolts,
    peak: solved.peakVolts,
    ripple: solved.ripplePeakToPeak,
    rippleRms: solved.rippleRms,
    rippleAtMains: solved.rippleAtMains,
    rippleAtTwiceMains: solved.rippleAtTwiceMains,
    amps: solved.loadMeanCurrent,
    secondaryRms: solved.secondaryRmsCurrent,
    pulsePeak: solved.rectifiedPeakCurrent,
    conduction_deg: solved.conductionAngleDegrees,
    capacitorRms: solved.capacitorRmsCurrent,
    diodeWatts: solved.diodeDissipation,
    allDiodesWatts: solved.allDiodesDissipation,
    windingWatts: solved.seriesDissipation,
    capacitorWatts: solved.capacitorDissipation,
    starved: solved.starved,
  };
}

/** The same circuit in the solver's words. */
export function rectifierCircuit(circuit: RawCircuit): RectifierCircuit {
  const { diode } = circuit;
  return {
    kind: circuit.kind,
    oneDiodeOpen: circuit.oneDiodeOpen,
    hertz: circuit.hertz,
    emfPeak: circuit.peakVolts,
    seriesResistance: circuit.seriesOhms,
    diode: {
      law: 'shockley',
      saturationCurrent: diode.is * Math.exp(-circuit.diodeOffset / (diode.n * THERMAL_VOLTS)),
      emissionCoefficient: diode.n,
      thermalVoltage: THERMAL_VOLTS,
      seriesResistance: diode.rs,
    },
    capacitance: circuit.farads,
    capacitorResistance: circuit.esr,
    loadCurrent: Math.max(circuit.amps, LEAST_AMPS),
    loadResistance: circuit.loadOhms,
  };
}
