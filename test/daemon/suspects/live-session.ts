import type { Design, LoadState } from '../../../daemon/design/design.js';
import { ExpectedBands, type BandAnswer } from '../../../daemon/expected-bands.js';
import { Expectations } from '../../../daemon/expectations.js';
import { loadBands } from '../../../daemon/predict/load-bands.js';
import { predict } from '../../../daemon/predict/predict.js';
import type { PointUnit } from '../../../daemon/predict/prediction.js';
import { LiveSuspects } from '../../../daemon/suspects/live-suspects.js';
import { halfWidth } from '../../../daemon/watch/compare.js';
import type { SuspectsEvent, WatchEvent } from '../../../daemon/watch/events.js';
import type { ChannelPlan, WatchPlan } from '../../../daemon/watch/plan.js';
import { supplyPlan } from '../../../daemon/watch/supply-plan.js';
import { beginWatch, watch, type WatchState } from '../../../daemon/watch/watch.js';
import { simulateParts, type SimulatedSupply } from '../../../drivers/simulated/supply.js';
import { manualClock } from '../../manual-clock.js';
import { clipped, supplyOf, type BenchFault, type BenchSupply } from '../watch/suspects/sessions.js';
import { suspectsAtOnce } from './suspects-at-once.js';

/** What was told in a session that ran as in front of a person. */
export interface LiveSession {
  readonly truth: string;
  readonly told: readonly SuspectsEvent[];
  /** Names of what came to lead, in turn; empty for none. */
  readonly leading: readonly string[];
  readonly recognised: readonly LoadState[];
}

export interface LiveSessionSetup {
  readonly design: Design;
  /** The load that is on. */
  readonly load: LoadState;
  /** What the session begins with. */
  readonly said?: LoadState;
  readonly struck: BenchFault | null;
  readonly seed: number;
  /** How long it is watched, session time. */
  readonly minutes: number;
}

/** What a person's meter stays on a test point. */
const STAY_MS = 8000;
const FIRST_MS = 4000;
const METER_MS = 500;
const PROBE_MS = 1000;
const TICK_MS = 250;

/** Accuracies as makers of common hand-held meters state them. */
const METERS: Readonly<
  Record<string, { channel: string; unit: PointUnit; percent: number; counts: number; resolution: number }>
> = {
  volts: { channel: 'volts', unit: 'V', percent: 0.5, counts: 1, resolution: 0.01 },
  ripple: { channel: 'ac', unit: 'Vrms', percent: 3, counts: 2, resolution: 0.0001 },
  valley: { channel: 'scope', unit: 'V', percent: 2, counts: 1, resolution: 0.05 },
  amps: { channel: 'clamp', unit: 'Arms', percent: 2, counts: 1, resolution: 0.01 },
};
const TYPED = METERS['valley']!.channel;
const PROBE = { percent: 1, counts: 10, resolution: 0.1 };

/**
 * A session from switching on: probes on every case and in the room from the start, a meter that goes from point to
 * point, and everything decided by the core as it is when instruments are read. Ends early when a part breaks.
 */
export function liveSession(setup: LiveSessionSetup): LiveSession {
  const { design, load, said = load, struck, seed, minutes } = setup;
  const drawn = supplyOf(design, load, struck, seed);
  const { source } = drawn.parts;
  const atMains = { ...source, peakVolts: source.peakVolts * drawn.mainsFactor };
  const supply = simulateParts({ ...drawn.parts, source: atMains }, { seed, load });
  const plan = planFor(design, said);
  const table = new Table(design, plan, drawn, supply);
  const points = Object.keys(plan.prediction.points);
  const electrical = points.filter((point) => meterFor(point) !== undefined);
  for (const point of points.filter(isProbed)) table.probe(point, point);
  for (let atMs = 0; atMs <= minutes * 60_000; atMs += TICK_MS) {
    supply.advanceTo(atMs);
    if (supply.failedShort.length > 0) break;
    const next = atMs < FIRST_MS ? undefined : electrical[(atMs - FIRST_MS) / STAY_MS];
    if (next !== undefined) table.probe(meterFor(next)!.channel, next);
    table.pass(atMs);
  }
  const { told, leading, recognised } = table;
  return { truth: drawn.truth, told, leading, recognised };
}

/** The instruments on the supply, and the core behind them with all that listens to it live. */
class Table {
  readonly told: SuspectsEvent[] = [];
  readonly leading: string[] = [];
  readonly recognised: LoadState[] = [];
  readonly #plan: WatchPlan;
  readonly #drawn: BenchSupply;
  readonly #supply: SimulatedSupply;
  readonly #clock = manualClock();
  readonly #suspects: LiveSuspects;
  readonly #expectations: Expectations;
  /** What each channel is off, as a share of half its accuracy. */
  readonly #off: ReadonlyMap<string, number>;
  /** Where each channel's probe sits. */
  readonly #places = new Map<string, string>();
  readonly #waiting: WatchEvent[] = [];
  #state: WatchState;

  constructor(design: Design, plan: WatchPlan, drawn: BenchSupply, supply: SimulatedSupply) {
    this.#plan = plan;
    this.#drawn = drawn;
    this.#supply = supply;
    this.#state = beginWatch(plan);
    this.#off = new Map(plan.channels.map(({ channel }) => [channel, clipped(drawn.random) / 2]));
    this.#suspects = new LiveSuspects({
      design,
      load: plan.prediction.load,
      seed: plan.prediction.seed,
      startThread: suspectsAtOnce,
      clock: this.#clock,
      emit: (event) => {
        this.told.push(event);
        this.#take(event);
      },
      onHealth: () => undefined,
    });
    this.#expectations = new Expectations(
      plan,
      {
        ask: ({ load }, onAnswer) => onAnswer(bandsFor(design, load)),
        onHealth: () => undefined,
        stop: () => Promise.resolve(),
      },
      (event) => this.#take({ ...event, atMs: this.#clock.nowMs() }),
    );
  }

  probe(channel: string, point: string): void {
    this.#places.set(channel, point);
    this.#take({ kind: 'probe', atMs: this.#clock.nowMs(), instrument: 'bench', channel, point });
    // A person reads the valley off the screen, once.
    if (channel === TYPED) this.#read(channel, point);
  }

  /** Lets the time come to this; whatever is due is read. */
  pass(atMs: number): void {
    this.#clock.advance(atMs - this.#clock.nowMs());
    for (const [channel, point] of this.#places) {
      const everyMs = isProbed(point) ? PROBE_MS : METER_MS;
      if (channel !== TYPED && atMs % everyMs === 0) this.#read(channel, point);
    }
    this.#take({ kind: 'tick', atMs });
  }

  #read(channel: string, point: string): void {
    const plan = this.#plan.channels.find((each) => each.channel === channel);
    const { accuracy } = plan ?? {};
    const resolution = accuracy?.resolution ?? 1;
    const ideal = seen(this.#supply, this.#drawn, point);
    const noise = 0.3 * resolution * this.#drawn.random.normal();
    const shown = ideal + this.#off.get(channel)! * halfWidth(ideal, accuracy) + noise;
    const value = Math.round(shown / resolution) * resolution;
    const unit = meterFor(point)?.unit ?? 'degC';
    this.#take({ kind: 'reading', atMs: this.#clock.nowMs(), instrument: 'bench', channel, value, unit });
  }

  /** One event at a time, as in a session: what a listener causes meanwhile waits its turn. */
  #take(event: WatchEvent): void {
    this.#waiting.push(event);
    if (this.#waiting.length > 1) return;
    for (let next = this.#waiting[0]; next !== undefined; next = this.#waiting[0]) {
      this.#step(next);
      this.#waiting.shift();
    }
  }

  #step(event: WatchEvent): void {
    const { state, effects } = watch(this.#state, event);
    this.#state = state;
    for (const effect of effects) {
      if (effect.kind === 'load-recognised') this.recognised.push(effect.load);
      if (effect.kind === 'suspect') this.leading.push(nameOf(effect.leading));
    }
    this.#suspects.take(event, state, effects);
    this.#expectations.onStep(event, state, effects);
  }
}

function nameOf(suspect: { readonly fault: string; readonly about: string } | null): string {
  return suspect === null ? '' : `${suspect.fault} ${suspect.about}`;
}

const kept = new WeakMap<Design, Map<LoadState, WatchPlan>>();
const answers = new WeakMap<Design, ExpectedBands>();

/** What sharpens an expectation moves no suspect, and would take longer than all the rest. */
function bandsFor(design: Design, load: LoadState): BandAnswer {
  const bands = answers.get(design) ?? new ExpectedBands(design, 0);
  answers.set(design, bands);
  return bands.answer({ load, measurements: [] });
}

function planFor(design: Design, said: LoadState): WatchPlan {
  const plans = kept.get(design) ?? new Map<LoadState, WatchPlan>();
  kept.set(design, plans);
  const plan = plans.get(said) ?? planOf(design, said);
  plans.set(said, plan);
  return plan;
}

function planOf(design: Design, said: LoadState): WatchPlan {
  const prediction = predict(design, { load: said });
  const meters: ChannelPlan[] = Object.values(METERS).map(({ channel, percent, counts, resolution }) => ({
    instrument: 'bench',
    channel,
    intervalMs: METER_MS,
    accuracy: { percent, counts, resolution },
    ...(channel === TYPED && { typed: true as const }),
  }));
  const probes: ChannelPlan[] = Object.keys(prediction.points)
    .filter(isProbed)
    .map((channel) => ({ instrument: 'bench', channel, intervalMs: PROBE_MS, accuracy: PROBE }));
  return {
    prediction,
    loads: loadBands(design, {}),
    channels: [...meters, ...probes],
    supply: supplyPlan(design, prediction),
  };
}

function isProbed(point: string): boolean {
  return point === 'ambient.air' || point.endsWith('.case');
}

function meterFor(point: string): (typeof METERS)[string] | undefined {
  return METERS[point.slice(point.lastIndexOf('.') + 1)];
}

/** What an ideal instrument shows there. */
function seen(supply: SimulatedSupply, { contacts }: BenchSupply, point: string): number {
  if (point.endsWith('.ripple')) return supply.read(`${point}-rms`);
  const value = supply.read(point);
  const contact = contacts.get(point);
  if (contact === undefined) return value;
  const air = supply.read('enclosure.air');
  return air + contact * (value - air);
}
