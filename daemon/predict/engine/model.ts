import type { LoadState } from '../../design/design.js';
import type { PointUnit } from '../prediction.js';
import { checkDescription } from './check-description.js';
import type { CoolingModel } from './cooling-model.js';
import { SinkModel } from './cooling-model.js';
import type { Feed } from './feed.js';
import { feedOrder } from './feed-order.js';
import type { FilterModel } from './filter-model.js';
import { filterModel } from './filter-model.js';
import { ParameterList } from './parameters.js';
import type { ModelPoint } from './points.js';
import { filterPoints, railPoints, reservoirPoints } from './points.js';
import { RailModel } from './rail-model.js';
import { RIPPLE_SAMPLES, ReservoirModel } from './reservoir-model.js';
import { SupplyError } from './supply-error.js';
import type { ReservoirDescription, SupplyDescription, Uncertain } from './supply.js';

/** A calculation from uncertain numbers to results. */
export interface Model {
  /** In the order of a draw's vector. */
  readonly parameters: readonly Uncertain[];
  /** In the order of the results' vector. */
  readonly outputs: readonly string[];
  readonly units: readonly PointUnit[];
  /**
   * Works one draw out. The same draw gives the same results, whatever was worked out before.
   * @throws {SupplyError} naming the supply and the circuit when it has no steady state.
   */
  evaluate(parameters: Float64Array, outputs: Float64Array): void;
}

/** Currents may still move by this share, and this much (A), when a supply counts as settled. */
const SETTLED_SHARE = 1e-6;
const SETTLED_AMPS = 1e-9;
/** Volts on currents on volts; a linear supply needs one, one with switching modules a few. */
const MOST_ROUNDS = 100;
/** From this round on currents go half way only, which calms modules that draw a constant power. */
const CALM_AFTER = 12;
/** Junctions on heat on junctions: it shrinks to less than a third each time. */
const MOST_HEAT_ROUNDS = 60;
const SETTLED_KELVIN = 1e-3;
/** A first guess of the reservoir's volts, as a share of the winding's peak. */
const GUESSED_SHARE = 0.85;

interface Node {
  readonly model: ReservoirModel;
  readonly rails: readonly RailModel[];
  readonly loadAmps: number;
  readonly loadSiemens: number;
  readonly filter: FilterModel | null;
  readonly filterRails: readonly RailModel[];
  startVolts: number;
}

/**
 * The whole supply as one calculation. Currents go up from the loads to the reservoirs, volts come down from the
 * rectifier's exact periodic steady state through filter and regulators, heat goes out to the air; where one depends
 * on the other they are iterated until they agree.
 *
 * Rails hang on a feed as constant currents; a capacitance multiplier and an RC filter as theirs on average (see
 * `solveFollower` and `solveRcFilter` for what that leaves out).
 */
export class SupplyModel implements Model {
  readonly description: SupplyDescription;
  readonly load: LoadState;
  readonly parameters: readonly Uncertain[];
  readonly points: readonly ModelPoint[];
  readonly outputs: readonly string[];
  readonly units: readonly PointUnit[];
  readonly reservoir: ReservoirModel;
  readonly negativeReservoir: ReservoirModel | null;
  readonly filter: FilterModel | null;
  /** Each after the one that feeds it. */
  readonly rails: readonly RailModel[];
  /** Settled temperatures of the shared heatsinks by name, degrees C. */
  readonly sinkTemperatures = new Map<string, number>();
  /** Around and inside the enclosure, degrees C. */
  ambient = 0;
  air = 0;
  readonly #nodes: Node[];
  readonly #leavesFirst: readonly RailModel[];
  readonly #cooled: readonly { readonly cooling: CoolingModel; readonly part: { readonly watts: number } }[];
  readonly #sinks: ReadonlyMap<string, SinkModel>;
  readonly #sinkWatts = new Map<string, number>();
  readonly #ambient: number;
  readonly #rise: number;

  /** @throws {SupplyError} for a description that contradicts itself, or whose typical supply has no steady state. */
  constructor(description: SupplyDescription, load: LoadState) {
    checkDescription(description);
    const list = new ParameterList(description.name);
    this.description = description;
    this.load = load;
    this.#ambient = list.place(description.ambient);
    this.#rise = list.place(description.enclosureRise);
    const { negativeReservoir, filter, heatsinks } = description;
    this.reservoir = new ReservoirModel(description, 'reservoir', description.reservoir, list);
    this.negativeReservoir =
      negativeReservoir === undefined
        ? null
        : new ReservoirModel(description, 'negative-reservoir', negativeReservoir, list);
    this.filter = filter === undefined ? null : filterModel(filter, load, RIPPLE_SAMPLES, list);
    this.rails = this.#makeRails(list);
    this.#leavesFirst = this.rails.toReversed();
    this.#sinks = new Map(Object.entries(heatsinks).map(([name, sink]) => [name, new SinkModel(sink, list)]));
    this.#cooled = [...this.rails, ...(this.filter === null ? [] : [this.filter])].flatMap((part) =>
      part.cooling === null ? [] : [{ cooling: part.cooling, part }],
    );
    this.#nodes = this.#makeNodes(list);
    this.parameters = list.all;
    this.points = this.#makePoints();
    this.outputs = this.points.map(({ id }) => id);
    this.units = this.points.map(({ unit }) => unit);
    this.#startFromTypical();
  }

  evaluate(parameters: Float64Array, outputs: Float64Array): void {
    this.solve(parameters);
    for (let k = 0; k < this.points.length; k += 1) {
      const value = this.points[k]!.read();
      if (!Number.isFinite(value)) throw this.#unsolved(`${this.points[k]!.id} came out as ${value}`);
      outputs[k] = value;
    }
  }

  /** The vector of every number as written. */
  typicalDraw(): Float64Array {
    return Float64Array.from(this.parameters, ({ typical }) => typical);
  }

  /** Works a draw out and leaves it in the parts, to be read there. Throws as `evaluate` does. */
  solve(values: Float64Array): void {
    this.ambient = values[this.#ambient]!;
    this.air = this.ambient + values[this.#rise]!;
    this.#restart(values);
    for (let round = 0; round < MOST_ROUNDS; round += 1) {
      for (const rail of this.#leavesFirst) rail.draw(values);
      if (!this.#solveNodes(values, round < CALM_AFTER ? 1 : 0.5)) return;
      this.#settleHeat(values);
    }
    throw this.#unsolved(
      `currents and volts don't settle within ${MOST_ROUNDS} rounds; ` +
        `its switching modules or resistive loads want more power than the winding gives or the reservoir holds from pulse to pulse (${this.#drawn()})`,
    );
  }

  #restart(values: Float64Array): void {
    for (const node of this.#nodes) {
      node.model.mean = node.startVolts;
      node.model.amps = NaN;
    }
    this.filter?.restart(values, this.reservoir.mean);
    for (const rail of this.rails) rail.restart(values);
    for (const { cooling } of this.#cooled) cooling.junction = this.air;
  }

  /** Solves what hangs on reservoirs whose currents moved since they were solved; false when none did. */
  #solveNodes(values: Float64Array, step: number): boolean {
    let moved = false;
    for (const node of this.#nodes) {
      const { model, filter } = node;
      const filterRailAmps = drawnBy(node.filterRails);
      let amps = values[node.loadAmps]! + drawnBy(node.rails);
      let siemens = node.loadSiemens;
      if (filter !== null) {
        amps += Number.isNaN(filter.inputAmps) ? filter.loadAmps + filterRailAmps : filter.inputAmps;
        siemens += filter.inputSiemens;
      }
      const settled =
        isClose(amps, model.amps, amps) && isClose(siemens * model.mean, model.siemens * model.mean, amps);
      if (settled && (filter === null || isClose(filterRailAmps, filter.railAmps, filterRailAmps))) continue;
      moved = true;
      const target = Number.isNaN(model.amps) ? amps : model.amps + step * (amps - model.amps);
      const otherShare = this.#otherShare(node, target, siemens);
      model.solve(values, { amps: target, siemens, otherShare }, filter);
      filter?.solve(values, model, filterRailAmps);
    }
    return moved;
  }

  /** The other polarity's current over this one's. */
  #otherShare(node: Node, amps: number, siemens: number): number {
    const other = this.#nodes.find((each) => each !== node);
    if (other === undefined) return 0;
    const own = amps + siemens * node.model.mean;
    const rails = drawnBy(other.rails);
    const others = Number.isNaN(other.model.amps)
      ? rails + other.loadSiemens * other.startVolts
      : other.model.amps + other.model.siemens * other.model.mean;
    return own > 0 ? others / own : 1;
  }

  /** Rails on their feeds, junctions on the rails' heat, until the junctions rest. */
  #settleHeat(values: Float64Array): void {
    for (let round = 0; round < MOST_HEAT_ROUNDS; round += 1) {
      for (const rail of this.rails) rail.solve(values, rail.cooling?.junction ?? this.air);
      if (this.#heat(values) < SETTLED_KELVIN) return;
    }
    throw this.#unsolved(`heat and temperatures don't settle within ${MOST_HEAT_ROUNDS} rounds`);
  }

  /** Works all temperatures out; returns by how much the junction that moved most did, K. */
  #heat(values: Float64Array): number {
    for (const [name, sink] of this.#sinks) {
      let watts = 0;
      for (const { cooling, part } of this.#cooled) if (cooling.sharedSink === name) watts += part.watts;
      this.#sinkWatts.set(name, watts);
      this.sinkTemperatures.set(name, sink.temperature(values, watts, this.air));
    }
    let moved = 0;
    for (const { cooling, part } of this.#cooled) {
      const before = cooling.junction;
      const shared = cooling.sharedSink === null ? NaN : this.sinkTemperatures.get(cooling.sharedSink)!;
      cooling.settle(values, part.watts, this.air, shared);
      moved = Math.max(moved, Math.abs(cooling.junction - before));
    }
    return moved;
  }

  #makeRails(list: ParameterList): RailModel[] {
    const feeds = new Map<string, { readonly from: Feed; readonly hertz: number }>();
    feeds.set('reservoir', { from: this.reservoir, hertz: 1 / this.reservoir.period });
    if (this.negativeReservoir !== null) {
      const hertz = 1 / this.negativeReservoir.period;
      feeds.set('negative-reservoir', { from: this.negativeReservoir, hertz });
    }
    if (this.filter !== null) feeds.set('filter', { from: this.filter, hertz: 1 / this.reservoir.period });
    const made = new Map<string, RailModel>();
    return feedOrder(this.description).map((rail) => {
      const feed = feeds.get(rail.from)!;
      const model = new RailModel(rail, this.load, { ...feed, samples: RIPPLE_SAMPLES }, list);
      made.get(rail.from)?.fed.push(model);
      made.set(rail.name, model);
      feeds.set(rail.name, { from: model, hertz: feed.hertz });
      return model;
    });
  }

  #makeNodes(list: ParameterList): Node[] {
    const { reservoir, negativeReservoir } = this.description;
    const nodes = [this.#node(this.reservoir, 'reservoir', reservoir, list)];
    if (this.negativeReservoir !== null && negativeReservoir !== undefined) {
      nodes.push(this.#node(this.negativeReservoir, 'negative-reservoir', negativeReservoir, list));
    }
    return nodes;
  }

  #node(model: ReservoirModel, name: string, part: ReservoirDescription, list: ParameterList): Node {
    const { transformer } = this.description;
    const load = part.load[this.load];
    const peak = Math.SQRT2 * transformer.secondaryVolts.typical * (1 + transformer.regulation.typical);
    const positive = model === this.reservoir;
    return {
      model,
      rails: this.#railsFrom(name),
      loadAmps: list.place(load.amps),
      loadSiemens: 1 / load.ohms + 1 / part.bleedOhms,
      filter: positive ? this.filter : null,
      filterRails: positive ? this.#railsFrom('filter') : [],
      startVolts: GUESSED_SHARE * peak,
    };
  }

  #railsFrom(feed: string): RailModel[] {
    return this.rails.filter(({ description }) => description.from === feed);
  }

  #makePoints(): ModelPoint[] {
    const air = (): number => this.air;
    const negative = this.negativeReservoir;
    return [
      ...reservoirPoints('reservoir', this.reservoir, 1),
      ...(negative === null ? [] : reservoirPoints('negative-reservoir', negative, -1)),
      ...(this.filter === null ? [] : filterPoints(this.filter, air)),
      ...this.rails.flatMap((rail) => railPoints(rail, air)),
      { id: 'transformer.amps', unit: 'Arms', read: () => this.windingAmps() },
      { id: 'ambient.air', unit: 'degC', read: () => this.ambient },
    ];
  }

  /** In the winding, or in one half; a split bridge's halves carry both polarities' pulses in turn. A RMS. */
  windingAmps(): number {
    const positive = this.reservoir.solved('secondaryRmsCurrent');
    if (this.negativeReservoir === null) return positive;
    return Math.hypot(positive, this.negativeReservoir.solved('secondaryRmsCurrent'));
  }

  /** Every draw begins at the typical supply's volts, so that what was worked out before has no say in it. */
  #startFromTypical(): void {
    this.solve(this.typicalDraw());
    for (const node of this.#nodes) node.startVolts = node.model.mean;
  }

  #unsolved(what: string): SupplyError {
    return new SupplyError('supply-unsolved', this.description.name, what);
  }

  #drawn(): string {
    return this.rails
      .map(({ description, inputAmps, mean }) => `${description.name} ${inputAmps} A in, ${mean} V out`)
      .join(', ');
  }
}

/** The model of a supply in a load state. Throws as `SupplyModel` does. */
export function supplyModel(description: SupplyDescription, load: LoadState): SupplyModel {
  return new SupplyModel(description, load);
}

function drawnBy(rails: readonly RailModel[]): number {
  let amps = 0;
  for (const rail of rails) amps += rail.inputAmps;
  return amps;
}

/** NaN is never close. */
function isClose(value: number, other: number, scale: number): boolean {
  return Math.abs(value - other) <= SETTLED_SHARE * Math.abs(scale) + SETTLED_AMPS;
}
