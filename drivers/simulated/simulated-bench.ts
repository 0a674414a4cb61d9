import type { Bench, BenchInstrument } from '../../daemon/design/bench.js';
import type { Design, LoadState } from '../../daemon/design/design.js';
import type { Clock } from '../clock.js';
import type { Measurand } from '../driver.js';
import type { Link } from '../link.js';
import { memoryLinkPair } from '../links/memory.js';
import type { SimulatedDevice } from './device.js';
import { DEVICES, channelNames } from './devices.js';
import { instrumentPort } from './instrument-port.js';
import type { InstrumentPort } from './instrument-port.js';
import { misbehavingEnd, type Misbehaviour } from './misbehaving-end.js';
import type { Outlet } from './outlet.js';
import { probeValue } from './probe.js';
import { seededRandom } from './random.js';
import { simulateSupply } from './supply.js';
import type { CycleWave, SimulatedSupply } from './supply.js';

export interface SimulatedBenchOptions {
  readonly design: Design;
  readonly bench: Bench;
  /** The supply and every instrument run on this clock's time, from the moment of the call. */
  readonly clock: Clock;
  readonly seed?: number;
  readonly fault?: string;
  readonly faultRail?: string;
  readonly load?: LoadState;
  readonly power?: 'on' | 'off';
  /** The supply on the table; simulated from the design when left out. */
  readonly supply?: SimulatedSupply;
}

/** A supply on a table with the instruments of a bench file around it, all of it simulated. */
export interface SimulatedBench {
  readonly instruments: readonly string[];
  /** Rails whose regulator has failed short from its own heat. */
  readonly failedShort: readonly string[];
  /** What is really there, at this moment. @throws RangeError for a point that doesn't exist. */
  truth(pointId: string): number;
  /** An in-memory link to the instrument, for one driver. A second call takes the instrument from the first link. */
  linkFor(instrument: string): Link;
  /** The instrument's socket, for outlets of other kinds. */
  portOf(instrument: string): InstrumentPort;
  /** Pulls the plug: the device loses power, its links and paths go away. */
  unplug(instrument: string): Promise<void>;
  plugIn(instrument: string): Promise<void>;
  /**
   * Lets an instrument be late, break off, send wrong bits, hang or have a full error queue; with `{}` it is well again.
   * @throws RangeError for a full error queue in an instrument without one.
   */
  misbehave(instrument: string, how: Misbehaviour): void;
  /** Puts a channel's probe on another test point. */
  moveProbe(instrument: string, channel: string, pointId: string): void;
  /** As SimulatedSupply.switchFault. */
  switchFault(name: string, rail?: string): void;
  setLoad(load: LoadState): void;
  power(state: 'on' | 'off'): void;
  /** Ends the devices and unplugs everything. Safe to call twice. */
  stop(): Promise<void>;
}

/** The supply never falls behind by more than this, even when nobody reads it. */
const LONGEST_PAUSE_MS = 1000;

/** @throws RangeError naming an instrument, test point, part or fault that the simulated bench doesn't have. */
export function startSimulatedBench(options: SimulatedBenchOptions): SimulatedBench {
  const { design, bench, clock, supply = simulateSupply(design, options) } = options;
  const startMs = clock.nowMs();
  const advance = (): SimulatedSupply => {
    supply.advanceTo(clock.nowMs() - startMs);
    return supply;
  };
  const seed = options.seed ?? 0;
  const table = new Map(
    Object.entries(bench.instruments).map(([name, instrument], index) => [
      name,
      putOnTable(name, instrument, clock, advance, seed === 0 ? index : seed * 1000 + index),
    ]),
  );
  for (const each of table.values()) each.device.start();
  const stopPacing = pace(clock, advance);

  function on(instrument: string): TableInstrument {
    const found = table.get(instrument);
    if (found) return found;
    throw new RangeError(`instrument: found "${instrument}"; this bench has ${[...table.keys()].join(', ')}`);
  }

  return {
    instruments: [...table.keys()],
    get failedShort() {
      return advance().failedShort;
    },
    truth: (pointId) => advance().read(pointId),
    linkFor: (instrument) => on(instrument).newLink(),
    portOf: (instrument) => on(instrument).port,
    unplug: (instrument) => on(instrument).unplug(),
    plugIn: (instrument) => on(instrument).plugIn(),
    misbehave: (instrument, how) => on(instrument).misbehave(how),
    moveProbe: (instrument, channel, pointId) => on(instrument).moveProbe(channel, pointId),
    switchFault: (name, rail) => advance().switchFault(name, rail),
    setLoad: (load) => advance().setLoad(load),
    power: (state) => advance().power(state),
    async stop() {
      stopPacing();
      await Promise.all([...table.values()].map((each) => each.unplug()));
    },
  };
}

function pace(clock: Clock, advance: () => void): () => void {
  let cancel: () => void = () => undefined;
  const next = (): void => {
    advance();
    cancel = clock.after(LONGEST_PAUSE_MS, next);
  };
  next();
  return () => cancel();
}

interface TableInstrument {
  readonly port: InstrumentPort;
  readonly device: SimulatedDevice;
  newLink(): Link;
  unplug(): Promise<void>;
  plugIn(): Promise<void>;
  misbehave(how: Misbehaviour): void;
  moveProbe(channel: string, pointId: string): void;
}

function putOnTable(
  name: string,
  instrument: BenchInstrument,
  clock: Clock,
  advance: () => SimulatedSupply,
  seed: number,
): TableInstrument {
  const build = DEVICES[instrument.driver];
  if (!build) {
    const names = Object.keys(DEVICES).join(', ');
    throw new RangeError(
      `instruments.${name}.driver: found "${instrument.driver}"; the simulated bench has ${names}`,
    );
  }
  const port = instrumentPort();
  const points = new Map<string, string | undefined>();
  const moveProbe = (channel: string, pointId: string): void => {
    checkPoint(`instruments.${name}.channels.${channel}`, pointId, advance());
    points.set(channel, pointId);
  };
  for (const channel of channelNames(instrument)) {
    const known = instrument.channels[channel];
    const pointId = known ? (known.at ?? channel) : channel;
    if (pointId.includes('.')) moveProbe(channel, pointId);
  }
  const see = (channel: string, measures: Measurand): number | null =>
    probeValue(advance(), { measures, at: points.get(channel) });
  const watchWave = (channel: string): CycleWave | null => {
    const at = points.get(channel);
    return at === undefined ? null : advance().waveform(at.slice(0, at.indexOf('.')));
  };
  const end = misbehavingEnd(port, clock, seededRandom(seed));
  const device = build({ instrument, end, clock, seed, see, watchWave });
  const fillErrorQueue = (): void => {
    if (device.fillErrorQueue !== undefined) return device.fillErrorQueue();
    const found = `instruments.${name}.driver: found "${instrument.driver}"`;
    throw new RangeError(`${found}; only instruments that speak SCPI have an error queue`);
  };
  let memory: Outlet | null = null;

  return {
    port,
    device,
    moveProbe,
    newLink() {
      if (memory) port.detach(memory);
      const { link, outlet } = memoryOutlet(name, port);
      memory = outlet;
      port.attach(outlet);
      return link;
    },
    misbehave(how) {
      if (how.hasFullErrorQueue === true) fillErrorQueue();
      end.misbehave(how);
    },
    async unplug() {
      device.stop();
      end.forget();
      await port.unplug();
    },
    async plugIn() {
      await port.plugIn();
      device.start();
    },
  };
}

function checkPoint(key: string, pointId: string, supply: SimulatedSupply): void {
  if (supply.pointIds.includes(pointId)) return;
  throw new RangeError(`${key}: found "${pointId}"; this supply has ${supply.pointIds.join(', ')}`);
}

function memoryOutlet(name: string, port: InstrumentPort): { link: Link; outlet: Outlet } {
  const path = `simulated ${name}`;
  const { link, far } = memoryLinkPair(path);
  far.onBytes((bytes) => port.receive(bytes));
  const outlet: Outlet = {
    send: (bytes) => far.send(bytes),
    unplug() {
      far.unplug('the plug was pulled');
      return Promise.resolve();
    },
    plugIn() {
      far.plugIn(path);
      return Promise.resolve();
    },
  };
  return { link, outlet };
}
