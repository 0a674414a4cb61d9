import { createRequire } from 'node:module';
import type { RectifierCircuit, ShockleyDiode } from '../../../../daemon/predict/rectifier/circuit.js';

/** The part of npm `odex` that is used here (extrapolation integrator after Hairer and Wanner's ODEX). */
interface Odex {
  Solver: new (dimension: number) => {
    absoluteTolerance: number;
    relativeTolerance: number;
    maxSteps: number;
    initialStepSize: number;
    maxStepSize: number;
    solve(
      f: (x: number, y: number[]) => number[],
      from: number,
      start: number[],
      to: number,
      output?: (
        step: number,
        from: number,
        to: number,
        y: number[],
        dense: (index: number, x: number) => number,
      ) => void,
    ): { y: number[]; outcome: number };
  };
}

const { Solver } = createRequire(import.meta.url)('odex') as Odex;

export interface IntegratedState {
  readonly meanVolts: number;
  readonly ripplePeakToPeak: number;
  readonly rectifiedRmsCurrent: number;
}

/** Junction current by Newton's method on the logarithm's equation, nothing shared with the code under test. */
function junctionCurrent(diode: ShockleyDiode, diodes: number, resistance: number, u: number): number {
  if (u <= 0) return 0;
  const slope = diodes * diode.emissionCoefficient * diode.thermalVoltage;
  const total = resistance + diodes * diode.seriesResistance;
  let i = Math.min(u / total, diode.saturationCurrent * Math.expm1(Math.min(u / slope, 600)));
  for (let round = 0; round < 200; round += 1) {
    const over = total * i + slope * Math.log1p(i / diode.saturationCurrent) - u;
    const next = Math.max(i * 1e-3, i - over / (total + slope / (i + diode.saturationCurrent)));
    if (Math.abs(next - i) <= 1e-13 * i) return next;
    i = next;
  }
  return i;
}

/**
 * Periodic steady state by time integration with odex and a secant on the capacitor's volts, for a
 * junction diode and a load that the supply can feed. `tolerance` is odex's, relative and absolute.
 */
export function integrateToSteadyState(
  circuit: RectifierCircuit,
  tolerance: number,
  start: number,
): IntegratedState {
  const period =
    circuit.kind === 'half-wave' || circuit.oneDiodeOpen ? 1 / circuit.hertz : 0.5 / circuit.hertz;
  const march = marchOnePeriod(circuit, period, tolerance);
  let low = 0;
  let high = circuit.emfPeak + circuit.capacitorResistance * circuit.loadCurrent;
  let y0 = NaN;
  let miss0 = NaN;
  let y1 = start;
  for (let round = 0; round < 80; round += 1) {
    const { miss } = march(y1, false);
    if (Math.abs(miss) <= 3 * tolerance || high - low < 1e-12) break;
    if (miss > 0) low = y1;
    else high = y1;
    const secant = y1 - (miss * (y1 - y0)) / (miss - miss0);
    const next = round === 0 ? y1 + miss : secant;
    y0 = y1;
    miss0 = miss;
    y1 = next > low && next < high ? next : (low + high) / 2;
  }
  const { y, lowest, highest } = march(y1, true);
  return {
    meanVolts: y[1]! / period,
    ripplePeakToPeak: highest - lowest,
    rectifiedRmsCurrent: Math.sqrt(y[2]! / period),
  };
}

function marchOnePeriod(circuit: RectifierCircuit, period: number, tolerance: number) {
  const node = nodeOf(circuit);
  const omega = 2 * Math.PI * circuit.hertz;
  const f = (t: number, y: number[]): number[] => {
    const { volts, current, charging } = node(circuit.emfPeak * Math.sin(omega * t), y[0]!);
    return [charging / circuit.capacitance, volts, current * current];
  };
  return (start: number, watches: boolean) => {
    const solver = new Solver(3);
    solver.absoluteTolerance = solver.relativeTolerance = tolerance;
    solver.maxSteps = 1e6;
    solver.initialStepSize = 1e-5;
    // Without a limit a step may pass over a whole charging pulse; extremes are looked for at steps.
    solver.maxStepSize = watches ? 5e-6 : 5e-4;
    let lowest = Infinity;
    let highest = -Infinity;
    const look = (_: number, __: number, t: number, y: number[]): void => {
      const { volts } = node(circuit.emfPeak * Math.sin(omega * t), y[0]!);
      lowest = Math.min(lowest, volts);
      highest = Math.max(highest, volts);
    };
    const { y, outcome } = solver.solve(f, 0, [start, 0, 0], period, watches ? look : undefined);
    if (outcome !== 0) throw new Error('odex did not finish the period');
    return { y, miss: y[0]! - start, lowest, highest };
  };
}

/** Kirchhoff's laws at the node: volts, rectified current and the capacitor's, from emf and capacitor volts. */
function nodeOf(circuit: RectifierCircuit) {
  const { diode, capacitorResistance: r, loadCurrent } = circuit;
  if (diode.law !== 'shockley') throw new Error('the reference integrates junction diodes only');
  const diodes = circuit.kind === 'bridge' ? 2 : 1;
  const conductance = 1 / circuit.loadResistance;
  const share = 1 / (1 + r * conductance);
  return (emf: number, y: number) => {
    const rectified = circuit.kind === 'half-wave' || circuit.oneDiodeOpen ? emf : Math.abs(emf);
    const u = rectified - share * (y - r * loadCurrent);
    const current = junctionCurrent(diode, diodes, circuit.seriesResistance + share * r, u);
    const volts = share * (y + r * (current - loadCurrent));
    return { volts, current, charging: current - loadCurrent - conductance * volts };
  };
}
