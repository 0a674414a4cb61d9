import type { Design, LoadState } from '../../daemon/design/design.js';
import { startCircuit } from './circuit.js';
import type { Circuit, CycleFigures, NodeFigures, RailFigures } from './circuit.js';
import { faultNamed, passInput } from './faults.js';
import type { SimulatedFault } from './faults.js';
import { wanderingMains } from './mains.js';
import type { WanderingMains } from './mains.js';
import { coldEnclosure } from './regulator-heat.js';
import type { EnclosureHeat } from './regulator-heat.js';
import { partsFrom } from './supply-parts.js';
import type { SupplyParts } from './supply-parts.js';

export interface SupplyOptions {
  /** 0 takes every part at its typical value; any other draws the parts within their tolerances. Default 0. */
  readonly seed?: number | undefined;
  /** A name of SIMULATED_FAULTS. Default `none`. */
  readonly fault?: string | undefined;
  /** The rail that the fault strikes; the fault's own choice by default. */
  readonly faultRail?: string | undefined;
  /** Default `typical`. */
  readonly load?: LoadState | undefined;
  /** Default `on`. */
  readonly power?: 'on' | 'off' | undefined;
  /** Standard deviation of the mains' slow wandering, percent. Default 0.3, which keeps it within about 1. */
  readonly mainsWander_percent?: number | undefined;
  /** From one look at the wandering mains to the next, s. Default 1. */
  readonly mainsStep_s?: number | undefined;
  /** What else differs from the drawn parts without being a fault: a warmer room, other mains. Default: nothing. */
  readonly surroundings?: ((drawn: SupplyParts) => SupplyParts) | undefined;
}

/** A supply on the bench, integrated in time steps. Its time stands still until it is told to go on. */
export interface SimulatedSupply {
  /** Every id that `read` knows. */
  readonly pointIds: readonly string[];
  /** Rails whose regulator has failed short from its own heat. */
  readonly failedShort: readonly string[];
  /** Lets time pass until `atMs`; an earlier time changes nothing. Many small steps give the same as one large. */
  advanceTo(atMs: number): void;
  /**
   * What an ideal instrument shows, averaged over the last mains cycle: V, V peak to peak (`ripple`), V RMS of
   * the AC part (`ripple-rms`), A RMS, degrees C, W (`dissipation`).
   * @throws RangeError naming the points that exist.
   */
  read(pointId: string): number;
  /**
   * What is on the reservoir or a rail over one mains cycle, from where the winding's volts rise through zero.
   * @throws RangeError for a node that doesn't exist.
   */
  waveform(node: string): CycleWave;
  /**
   * Puts back every part, one that failed from heat included, then makes this fault.
   * @throws RangeError for a fault or rail that doesn't exist.
   */
  switchFault(name: string, rail?: string): void;
  /** The same with a change of its own to the healthy parts. */
  change(change: (healthy: SupplyParts) => SupplyParts): void;
  setLoad(load: LoadState): void;
  power(state: 'on' | 'off'): void;
}

/** Volts at even steps over one mains cycle; the next cycle lies `driftVolts` higher. */
export interface CycleWave {
  readonly hertz: number;
  readonly volts: Float64Array;
  readonly driftVolts: number;
}

/** Volts so many cycles after the beginning of the wave's first. */
export function waveAt({ volts, driftVolts }: CycleWave, cycles: number): number {
  const turn = Math.floor(cycles);
  const at = (cycles - turn) * volts.length;
  const place = Math.floor(at);
  const before = volts[place] ?? 0;
  const after = place + 1 < volts.length ? volts[place + 1]! : (volts[0] ?? 0) + driftVolts;
  return turn * driftVolts + before + (after - before) * (at - place);
}

/** @throws RangeError for a regulator, fault or rail that the simulated bench doesn't have. */
export function simulateSupply(design: Design, options: SupplyOptions = {}): SimulatedSupply {
  return simulateParts(partsFrom(design, options.seed ?? 0), options);
}

/**
 * The supply that is made of these parts; the seed is the mains' alone.
 * @throws RangeError for a fault or rail that the simulated bench doesn't have.
 */
export function simulateParts(parts: SupplyParts, options: SupplyOptions = {}): SimulatedSupply {
  return new SteppedSupply(parts, options);
}

/** Cycles from one step of the heat to the next. */
const CYCLES_PER_HEAT_STEP = 5;
/** A cycle that moves the reservoir by less than this share of its volts counts as steady. */
const STEADY_SHARE = 2e-5;
const MOST_SETTLING_CYCLES = 40;
/** With the mains off, the reservoir counts as empty below this. */
const EMPTY_VOLTS = 0.01;

/**
 * Every mains cycle is integrated while anything is settling. A steady cycle stands for the ones after it, until
 * the mains has moved or a part has changed: that is what makes it run thousands of times faster than real time.
 */
class SteppedSupply implements SimulatedSupply {
  readonly pointIds: readonly string[];
  readonly #healthy: SupplyParts;
  readonly #mains: WanderingMains;
  readonly #circuit: Circuit;
  readonly #heat: EnclosureHeat;
  readonly #readings: ReadonlyMap<string, () => number>;
  readonly #failed = new Set<string>();
  readonly #cyclesPerMainsStep: number;
  readonly #joules = new Map<string, number>();
  #struck: SupplyParts;
  #parts: SupplyParts;
  #load: LoadState;
  #powered: boolean;
  #figures: CycleFigures;
  #cycles = 0;
  #settling = true;

  constructor(parts: SupplyParts, options: SupplyOptions) {
    const seed = options.seed ?? 0;
    this.#healthy = options.surroundings?.(parts) ?? parts;
    this.#struck = this.#healthy;
    this.#parts = this.#healthy;
    this.#cyclesPerMainsStep = Math.round((options.mainsStep_s ?? 1) * this.#healthy.hertz);
    this.#mains = wanderingMains(seed, (options.mainsWander_percent ?? 0.3) / 100);
    this.#circuit = startCircuit(this.#healthy);
    this.#heat = coldEnclosure(this.#healthy.ambient, this.#healthy.rails.keys());
    this.#load = options.load ?? 'typical';
    this.#powered = options.power !== 'off';
    this.#figures = this.#circuit.cycle(0, this.#load, this.#heat.junctions());
    this.#readings = this.#readingsByPoint();
    this.pointIds = [...this.#readings.keys()];
    this.switchFault(options.fault ?? 'none', options.faultRail);
  }

  get failedShort(): readonly string[] {
    return [...this.#failed];
  }

  advanceTo(atMs: number): void {
    const target = Math.floor((atMs / 1000) * this.#parts.hertz + 1e-6);
    while (this.#cycles < target) {
      const heatStep = (Math.floor(this.#cycles / CYCLES_PER_HEAT_STEP) + 1) * CYCLES_PER_HEAT_STEP;
      const next = this.#settling ? this.#cycles + 1 : Math.min(target, heatStep);
      if (this.#settling) this.#runOneCycle();
      this.#addHeat(next - this.#cycles);
      this.#cycles = next;
      if (next % CYCLES_PER_HEAT_STEP === 0) this.#stepHeat();
      if (next % this.#cyclesPerMainsStep === 0) this.#followMains();
    }
  }

  read(pointId: string): number {
    const reading = this.#readings.get(pointId);
    if (reading) return reading();
    throw new RangeError(`test point: found "${pointId}"; this supply has ${this.pointIds.join(', ')}`);
  }

  waveform(node: string): CycleWave {
    const mainsFactor = this.#powered ? this.#mains.factor() : 0;
    const trace = this.#circuit.trace(mainsFactor, this.#load, this.#heat.junctions());
    const wave = trace.get(node);
    if (wave === undefined) {
      throw new RangeError(`waveform: found "${node}"; this supply has ${[...trace.keys()].join(', ')}`);
    }
    const sign = this.#healthy.rails.get(node)?.sign ?? 1;
    const volts = wave.volts.map((each) => sign * each);
    return { hertz: this.#parts.hertz, volts, driftVolts: sign * wave.driftVolts };
  }

  switchFault(name: string, rail?: string): void {
    const fault = faultNamed(name);
    this.change((healthy) => fault.change(healthy, rail ?? this.#railStruckBy(fault)));
  }

  change(change: (healthy: SupplyParts) => SupplyParts): void {
    this.#struck = change(this.#healthy);
    this.#failed.clear();
    this.#putIn(this.#struck);
  }

  setLoad(load: LoadState): void {
    this.#load = load;
    this.#settling = true;
  }

  power(state: 'on' | 'off'): void {
    this.#powered = state === 'on';
    this.#settling = true;
  }

  #putIn(parts: SupplyParts): void {
    this.#parts = parts;
    this.#circuit.replace(parts);
    this.#settling = true;
  }

  #runOneCycle(): void {
    const before = this.#circuit.capacitorVolts;
    const mainsFactor = this.#powered ? this.#mains.factor() : 0;
    this.#figures = this.#circuit.cycle(mainsFactor, this.#load, this.#heat.junctions());
    const moved = Math.abs(this.#circuit.capacitorVolts - before);
    this.#settling = this.#powered ? moved > STEADY_SHARE * Math.max(1, before) : before > EMPTY_VOLTS;
  }

  /** Takes a steady circuit to its new steady state at once, for the mains moves by parts in ten thousand. */
  #followMains(): void {
    this.#mains.step(this.#cyclesPerMainsStep / this.#parts.hertz);
    if (this.#settling || !this.#powered) return;
    for (let cycle = 0; cycle < MOST_SETTLING_CYCLES; cycle += 1) {
      this.#runOneCycle();
      if (!this.#settling) return;
    }
  }

  #addHeat(cycles: number): void {
    const seconds = cycles / this.#parts.hertz;
    for (const [rail, { dissipation }] of this.#figures.rails) {
      this.#joules.set(rail, (this.#joules.get(rail) ?? 0) + dissipation * seconds);
    }
  }

  #stepHeat(): void {
    const seconds = CYCLES_PER_HEAT_STEP / this.#parts.hertz;
    const watts = new Map([...this.#joules].map(([rail, joules]) => [rail, joules / seconds] as const));
    this.#joules.clear();
    const failed = this.#heat.step(this.#parts, watts, this.#powered, seconds);
    const fresh = failed.filter((rail) => !this.#failed.has(rail));
    if (fresh.length === 0) return;
    for (const rail of fresh) this.#failed.add(rail);
    this.#putIn(this.failedShort.reduce(passInput, this.#struck));
  }

  #railStruckBy(fault: SimulatedFault): string {
    const { rails } = this.#healthy;
    if (fault.strikes === 'lowest-volts') return most(rails, (rail) => -rail.setVolts);
    if (fault.strikes === null) return '';
    return most(settledRails(this.#healthy, this.#load), (rail) => rail.dissipation);
  }

  #readingsByPoint(): ReadonlyMap<string, () => number> {
    const readings = new Map<string, () => number>([
      ...nodeReadings('reservoir', 1, () => this.#figures.reservoir),
      ['reservoir.valley', () => this.#figures.reservoir.lowest],
      ['reservoir.hertz', () => this.#parts.hertz * (this.#parts.source.halfCycles === 'both' ? 2 : 1)],
      ['transformer.amps', () => this.#figures.windingAmps / Math.sqrt(this.#parts.source.windings)],
      ['ambient.air', () => this.#healthy.ambient],
      ['enclosure.air', () => this.#heat.airInside],
      ['mains.share', () => (this.#powered ? this.#mains.factor() : 0)],
    ]);
    for (const [rail, { sign }] of this.#healthy.rails) {
      const figures = () => this.#railFigures(rail);
      for (const [id, reading] of nodeReadings(rail, sign, figures)) readings.set(id, reading);
      readings.set(`${rail}.amps`, () => figures().loadAmps);
      readings.set(`${rail}.dissipation`, () => figures().dissipation);
      readings.set(`${rail}.case`, () => this.#heat.of(rail).case);
      readings.set(`${rail}.junction`, () => this.#heat.of(rail).junction);
    }
    return readings;
  }

  #railFigures(rail: string): RailFigures {
    const figures = this.#figures.rails.get(rail);
    if (figures) return figures;
    throw new RangeError(`rail: "${rail}" isn't in the circuit`);
  }
}

function nodeReadings(node: string, sign: 1 | -1, figures: () => NodeFigures): [string, () => number][] {
  return [
    [`${node}.volts`, () => sign * figures().mean],
    [`${node}.ripple`, () => figures().highest - figures().lowest],
    [`${node}.ripple-rms`, () => figures().rms],
  ];
}

/** More than enough cycles to charge any reservoir that the winding can charge at all within seconds. */
const CYCLES_TO_SETTLE = 60;

/** What the rails do at the rated mains once the reservoir is charged, on a circuit of its own. */
function settledRails(parts: SupplyParts, load: LoadState): ReadonlyMap<string, RailFigures> {
  const circuit = startCircuit(parts, parts.source.peakVolts * 0.8);
  let figures = circuit.cycle(1, load, new Map());
  for (let cycle = 1; cycle < CYCLES_TO_SETTLE; cycle += 1) figures = circuit.cycle(1, load, new Map());
  return figures.rails;
}

/** The name of the rail that scores highest. */
function most<Entry>(rails: ReadonlyMap<string, Entry>, score: (entry: Entry) => number): string {
  const ranked = [...rails].sort(([, a], [, b]) => score(b) - score(a));
  return ranked[0]?.[0] ?? '';
}
