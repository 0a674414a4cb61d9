import type { LoadState } from '../../daemon/design/design.js';
import { THERMAL_VOLTS } from './parts.js';
import type { RailParts, SourceParts, SupplyParts } from './supply-parts.js';

/** What one mains cycle did, in averages over the cycle. */
export interface CycleFigures {
  readonly reservoir: NodeFigures;
  /** Into the reservoir through the rectifier: A RMS, which is the winding's too, and A on average. */
  readonly windingAmps: number;
  readonly meanAmps: number;
  readonly rails: ReadonlyMap<string, RailFigures>;
  /** Where the cycle's energy went, W on average. */
  readonly power: PowerFigures;
}

export interface NodeFigures {
  readonly mean: number;
  readonly lowest: number;
  readonly highest: number;
  /** RMS of the AC part, V. */
  readonly rms: number;
}

export interface RailFigures extends NodeFigures {
  readonly loadAmps: number;
  /** Heat in the regulator, W. */
  readonly dissipation: number;
}

export interface PowerFigures {
  readonly fromSource: number;
  readonly inWinding: number;
  readonly inDiodes: number;
  readonly inReservoirSeriesOhms: number;
  /** Everything drawn from the reservoir: regulators, loads, bleed. */
  readonly fromReservoir: number;
}

/** What a failed-short regulator still puts in the way, ohm (from memory: a fused die and its bond wires). */
const SHORTED_OHMS = 0.15;
const STEPS_PER_CYCLE = 400;
/** With the mains off nothing moves fast. */
const STEPS_PER_DEAD_CYCLE = 8;

/**
 * The circuit from winding to loads, integrated in time steps with the trapezoidal rule: winding emf and
 * resistance, diodes by the Shockley law, reservoir with series resistance, regulators, loads. The loads are
 * resistors below their set volts and draw a constant current above.
 */
export interface Circuit {
  /** Volts on the capacitance itself. */
  readonly capacitorVolts: number;
  /**
   * Steps through one whole mains cycle.
   * @param mainsFactor mains volts as a share of the rated ones; 0 is off.
   * @param junctions each rail's junction temperature, degrees C.
   */
  cycle(mainsFactor: number, load: LoadState, junctions: ReadonlyMap<string, number>): CycleFigures;
  /** What the reservoir and each rail would do in the cycle that comes next. The circuit stays where it is. */
  trace(
    mainsFactor: number,
    load: LoadState,
    junctions: ReadonlyMap<string, number>,
  ): ReadonlyMap<string, NodeTrace>;
  /** Puts other parts into the circuit; the reservoir keeps its volts. */
  replace(parts: SupplyParts): void;
}

/** Volts at every step of a cycle, and by how much the mean of the cycle after lies higher. */
export interface NodeTrace {
  readonly volts: Float64Array;
  readonly driftVolts: number;
}

export function startCircuit(initialParts: SupplyParts, initialVolts = 0): Circuit {
  let parts = initialParts;
  const node = { capacitorVolts: initialVolts, volts: initialVolts, mean: initialVolts };

  const steppers = (load: LoadState, junctions: ReadonlyMap<string, number>): RailStepper[] =>
    [...parts.rails].map(([name, rail]) =>
      railStepper(name, rail, rail.loadAmps[load], junctions.get(name) ?? 25),
    );

  return {
    get capacitorVolts() {
      return node.capacitorVolts;
    },
    replace(next) {
      parts = next;
    },
    trace(mainsFactor, load, junctions) {
      const rails = steppers(load, junctions);
      const copy = { ...node };
      const [first, second] = [1, 2].map(() => {
        const steps: number[][] = [];
        const { reservoir } = runCycle(parts, copy, mainsFactor, rails, () => {
          steps.push([copy.volts, ...rails.map((rail) => rail.outputVolts)]);
        });
        copy.mean = reservoir.mean;
        return steps;
      });
      const names = ['reservoir', ...rails.map((rail) => rail.name)];
      return new Map(
        names.map((name, at) => {
          const [volts, after] = [first, second].map((steps) => Float64Array.from(steps!, (all) => all[at]!));
          return [name, { volts: volts!, driftVolts: meanOf(after!) - meanOf(volts!) }] as const;
        }),
      );
    },
    cycle(mainsFactor, load, junctions) {
      const rails = steppers(load, junctions);
      const figures = runCycle(parts, node, mainsFactor, rails);
      node.mean = figures.reservoir.mean;
      return figures;
    },
  };
}

function meanOf(volts: Float64Array): number {
  return volts.reduce((sum, one) => sum + one, 0) / volts.length;
}

interface NodeState {
  capacitorVolts: number;
  volts: number;
  /** Mean of the cycle before: what the regulators' ripple is counted from. */
  mean: number;
}

/** One loop over the cycle, kept whole because it is the hot path. */
function runCycle(
  parts: SupplyParts,
  node: NodeState,
  mainsFactor: number,
  rails: readonly RailStepper[],
  onStep?: () => void,
): CycleFigures {
  const { source, reservoir, hertz } = parts;
  const steps = mainsFactor > 0 ? STEPS_PER_CYCLE : STEPS_PER_DEAD_CYCLE;
  const dt = 1 / (hertz * steps);
  const halfStepPerFarad = dt / (2 * reservoir.farads);
  const reach = halfStepPerFarad + reservoir.seriesOhms;
  const peak = source.peakVolts * mainsFactor;
  const sums = { amps: 0, squaredAmps: 0, source: 0, diodes: 0, series: 0, drawn: 0 };
  const nodeSums = nodeAccumulator();
  for (const rail of rails) rail.start(node.mean, node.volts);
  let drawnAmps = 0;
  let siemens = 0;
  const look = (): void => {
    drawnAmps = node.volts / reservoir.bleedOhms;
    siemens = 1 / reservoir.bleedOhms;
    for (const rail of rails) {
      drawnAmps += rail.inputAmps;
      siemens += rail.inputSiemens;
    }
  };
  look();
  let netAmps = -drawnAmps; // a cycle begins at no emf, with the diodes blocking
  for (let step = 1; step <= steps; step += 1) {
    const sine = Math.sin((2 * Math.PI * step) / steps);
    const emf =
      peak * (source.halfCycles === 'both' ? Math.abs(sine) : source.halfCycles === 'one' ? sine : 0);
    // New node volts are base + slope x (rectified amps), the load taken as a straight line about the old volts.
    const slope = reach / (1 + reach * siemens);
    const held = node.capacitorVolts + halfStepPerFarad * netAmps;
    const base = (held - reach * (drawnAmps - siemens * node.volts)) / (1 + reach * siemens);
    const amps = rectifierAmps(source, emf - base, slope);
    const volts = Math.max(0, base + slope * amps);
    const loadAmps = drawnAmps + siemens * (volts - node.volts);
    netAmps = amps - loadAmps;
    node.capacitorVolts = Math.max(0, held + halfStepPerFarad * netAmps);
    node.volts = volts;
    for (const rail of rails) rail.step(volts);
    look();
    onStep?.();
    nodeSums.add(volts);
    sums.amps += amps;
    sums.squaredAmps += amps * amps;
    sums.source += emf * amps;
    sums.diodes += (emf - volts - amps * source.windingOhms) * amps;
    sums.series += netAmps * netAmps * reservoir.seriesOhms;
    sums.drawn += volts * loadAmps;
  }
  const meanSquare = sums.squaredAmps / steps;
  return {
    reservoir: nodeSums.figures(),
    windingAmps: Math.sqrt(meanSquare),
    meanAmps: sums.amps / steps,
    rails: new Map(rails.map((rail) => [rail.name, rail.figures()])),
    power: {
      fromSource: sums.source / steps,
      inWinding: meanSquare * source.windingOhms,
      inDiodes: sums.diodes / steps,
      inReservoirSeriesOhms: sums.series / steps,
      fromReservoir: sums.drawn / steps,
    },
  };
}

/**
 * Amps through winding and diodes that `overVolts` drives into a node which rises by `nodeOhms` an ampere.
 * Newton's method on u = ln(1 + i / Is): the function is convex and rising in u, so that it closes in from above.
 */
export function rectifierAmps(source: SourceParts, overVolts: number, nodeOhms: number): number {
  if (overVolts <= 0) return 0;
  const { saturationAmps, ideality, ohms } = source.diode;
  const logVolts = source.diodesInPath * ideality * THERMAL_VOLTS;
  const scale = saturationAmps * (source.windingOhms + source.diodesInPath * ohms + nodeOhms);
  let u = Math.min(overVolts / logVolts, Math.log1p(overVolts / scale));
  for (let round = 0; round < 50; round += 1) {
    const grown = scale * Math.exp(u);
    const change = (grown - scale + logVolts * u - overVolts) / (grown + logVolts);
    u -= change;
    if (Math.abs(change) < 1e-10) break;
  }
  return saturationAmps * Math.expm1(Math.max(0, u));
}

/** A regulator and its load, stepped along with the reservoir. */
interface RailStepper {
  readonly name: string;
  /** What it draws at the volts of the last step, and how much more it would draw a volt higher. */
  readonly inputAmps: number;
  readonly inputSiemens: number;
  readonly outputVolts: number;
  /** Begins a cycle at these input volts, of which the mean is about `inputMean`. */
  start(inputMean: number, inputVolts: number): void;
  step(inputVolts: number): void;
  figures(): RailFigures;
}

function railStepper(name: string, rail: RailParts, load: number, junction: number): RailStepper {
  const setVolts = rail.setVolts * (1 + rail.drift_perK * (junction - 25));
  const fullAmps = load + rail.dividerAmps;
  const loadOhms = fullAmps > 0 ? rail.setVolts / fullAmps : Infinity;
  const seriesVolts = rail.passesInput ? 0 : rail.dropoutVolts;
  const seriesOhms = rail.passesInput ? SHORTED_OHMS : rail.dropoutOhms;
  const groundAmps = rail.passesInput ? 0 : rail.groundAmps;
  const nodeSums = nodeAccumulator();
  let inputMean = 0;
  let outputVolts = 0;
  let outputAmps = 0;
  let inputAmps = 0;
  let inputSiemens = 0;
  let heat = 0;
  let loadSum = 0;

  function settleAt(inputVolts: number): void {
    const starvedAmps = Math.max(0, inputVolts - seriesVolts) / (loadOhms + seriesOhms);
    const isStarved = starvedAmps < fullAmps;
    outputAmps = isStarved ? starvedAmps : fullAmps;
    inputSiemens = isStarved && inputVolts > seriesVolts ? 1 / (loadOhms + seriesOhms) : 0;
    const passed = Math.max(0, inputVolts - seriesVolts - outputAmps * seriesOhms);
    const regulated = setVolts + rail.ripplePassed * (inputVolts - inputMean);
    outputVolts = rail.passesInput ? passed : Math.min(regulated, passed);
    inputAmps = outputAmps + groundAmps * Math.min(1, inputVolts / rail.dropoutVolts);
  }

  return {
    name,
    get inputAmps() {
      return inputAmps;
    },
    get inputSiemens() {
      return inputSiemens;
    },
    get outputVolts() {
      return outputVolts;
    },
    start(mean, inputVolts) {
      inputMean = mean;
      settleAt(inputVolts);
    },
    step(inputVolts) {
      settleAt(inputVolts);
      nodeSums.add(outputVolts);
      heat += inputVolts * inputAmps - outputVolts * outputAmps;
      loadSum += outputAmps;
    },
    figures: () => ({
      ...nodeSums.figures(),
      loadAmps: loadSum / nodeSums.count(),
      dissipation: heat / nodeSums.count(),
    }),
  };
}

interface NodeAccumulator {
  add(volts: number): void;
  count(): number;
  figures(): NodeFigures;
}

function nodeAccumulator(): NodeAccumulator {
  let count = 0;
  let sum = 0;
  let first = 0;
  let squares = 0;
  let lowest = Infinity;
  let highest = -Infinity;
  return {
    add(volts) {
      if (count === 0) first = volts;
      // Squares are counted from the first value, so that a small ripple on high volts keeps its digits.
      const deviation = volts - first;
      count += 1;
      sum += deviation;
      squares += deviation * deviation;
      if (volts < lowest) lowest = volts;
      if (volts > highest) highest = volts;
    },
    count: () => count,
    figures() {
      const meanDeviation = sum / count;
      const rms = Math.sqrt(Math.max(0, squares / count - meanDeviation * meanDeviation));
      return { mean: first + meanDeviation, lowest, highest, rms };
    },
  };
}
