import type { Design, LoadState } from '../../daemon/design/design.js';
import type { AlarmEffect } from '../../daemon/watch/effects.js';
import { seededRandom, type RandomSource } from '../../drivers/simulated/random.js';
import { simulateSupply, type CycleWave, type SimulatedSupply } from '../../drivers/simulated/supply.js';
import type { SupplyParts } from '../../drivers/simulated/supply-parts.js';
import type { RunDesign } from './designs.js';
import { LiveCore } from './live-core.js';
import { clipped, metersFor, readMeter, type Equipment, type Meter } from './meters.js';

const STEP_MS = 250;
/** A bead in still air, and what is left of the rise beside a hot part (from memory: ten seconds, a tenth). */
const BEAD_MS = 10_000;
const LEFT_IN_AIR = 0.1;

export interface TableOptions {
  readonly run: RunDesign;
  readonly equipment: Equipment;
  /** What the session was told, and what is really on. */
  readonly toldLoad: LoadState;
  readonly load: LoadState;
  readonly seed: number;
}

/** A simulated supply with its instruments and the core that watches them, told what to do at times of the session. */
export class Table {
  readonly core: LiveCore;
  readonly random: RandomSource;
  readonly meters: readonly Meter[];
  readonly #supply: SimulatedSupply;
  /** Instruments that say nothing now, and channels that show an overload. */
  readonly silent = new Set<string>();
  readonly open = new Set<string>();
  /** Test points whose probe has fallen off, and when. */
  readonly #fallenAtMs = new Map<string, number>();
  #atMs = 0;
  #mains = 1;
  #fault: (parts: SupplyParts) => SupplyParts = (parts) => parts;

  constructor({ run, equipment, toldLoad, load, seed }: TableOptions) {
    const random = seededRandom(seed);
    for (let skipped = 0; skipped < 8; skipped += 1) random.uniform();
    this.random = random;
    this.#supply = simulateSupply(run.design, {
      seed,
      load,
      power: 'off',
      mainsStep_s: 5,
      surroundings: surroundings(run.design, random),
    });
    this.meters = metersFor(Object.keys(run.design.rails), equipment, random);
    const channels = this.meters.map(({ plan }) => plan);
    this.core = new LiveCore({ ...run.planFor(toldLoad), channels }, run.bands);
    this.core.take({ kind: 'recorder', atMs: 0, writing: true, why: '' });
    for (const { plan, point } of this.meters) this.#probe(plan, point);
    for (const instrument of this.#instruments())
      this.core.take({ kind: 'instrument', atMs: 0, instrument, state: 'open', why: 'connected' });
  }

  get nowMs(): number {
    return this.#atMs;
  }

  get alarms(): readonly AlarmEffect[] {
    return this.core.alarms;
  }

  power(state: 'on' | 'off'): void {
    this.#supply.power(state);
  }

  setLoad(load: LoadState): void {
    this.#supply.setLoad(load);
  }

  sayLoad(load: LoadState): void {
    this.core.take({ kind: 'load', atMs: this.#atMs, load });
  }

  /** The mains' own share of its rated volts, beside what it was at the start and its slow wandering. */
  setMains(share: number): void {
    this.#mains = share;
    this.#change();
  }

  strike(fault: (parts: SupplyParts) => SupplyParts): void {
    this.#fault = fault;
    this.#change();
  }

  moveProbe(meter: Meter, point: string): void {
    meter.point = point;
    this.#probe(meter.plan, point);
  }

  lose(instrument: string): void {
    this.silent.add(instrument);
    this.core.take({
      kind: 'instrument',
      atMs: this.#atMs,
      instrument,
      state: 'lost',
      why: 'the plug was pulled',
    });
  }

  /** The probe of a case falls into the air beside it. */
  takeOff(point: string): void {
    this.#fallenAtMs.set(point, this.#atMs);
  }

  /** Lets time pass, every instrument reading at its own interval. */
  pass(ms: number): void {
    const endMs = this.#atMs + ms;
    while (this.#atMs < endMs) {
      this.#atMs += STEP_MS;
      this.#supply.advanceTo(this.#atMs);
      for (const meter of this.meters) this.#read(meter);
      this.core.tick(this.#atMs);
    }
  }

  #read(meter: Meter): void {
    const { plan, firstAtMs } = meter;
    const atMs = this.#atMs;
    if ((atMs - firstAtMs) % plan.intervalMs !== 0 || this.silent.has(plan.instrument)) return;
    const { instrument, channel } = plan;
    if (this.open.has(channel) && meter.unit !== 'capture') {
      const { unit } = meter;
      this.core.take({ kind: 'reading', atMs, instrument, channel, value: null, unit, mark: 'overload' });
    } else this.core.take(readMeter(meter, { read: this.#see, waveform: this.#wave }, atMs, this.random));
  }

  readonly #wave = (node: string): CycleWave => this.#supply.waveform(node);

  readonly #see = (point: string): number => {
    const truth = this.#supply.read(point);
    const fallenAtMs = this.#fallenAtMs.get(point);
    if (fallenAtMs === undefined) return truth;
    const air = this.#supply.read('enclosure.air');
    const contact = LEFT_IN_AIR + (1 - LEFT_IN_AIR) * Math.exp((fallenAtMs - this.#atMs) / BEAD_MS);
    return air + contact * (truth - air);
  };

  #probe({ instrument, channel }: Meter['plan'], point: string): void {
    this.core.take({ kind: 'probe', atMs: this.#atMs, instrument, channel, point });
  }

  #change(): void {
    const mains = this.#mains;
    this.#supply.change((parts) => withMains(this.#fault(parts), mains));
  }

  #instruments(): readonly string[] {
    return [...new Set(this.meters.map(({ plan }) => plan.instrument))];
  }
}

/** Half of what the design allows of the mains and the room: a house by day, not its worst hour. */
function surroundings({ mains }: Design, random: RandomSource): (drawn: SupplyParts) => SupplyParts {
  const share = 1 + 0.02 * clipped(random);
  const room = mains.ambient.typical + 2 * clipped(random);
  const rise = mains.enclosure_rise * (0.5 + 0.5 * random.uniform());
  return (drawn) => ({ ...withMains(drawn, share), ambient: room, enclosureRise: rise });
}

function withMains(parts: SupplyParts, share: number): SupplyParts {
  const { source } = parts;
  return { ...parts, source: { ...source, peakVolts: share * source.peakVolts } };
}
