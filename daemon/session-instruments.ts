import { captureEvent, captureFault } from './capture-event.js';
import type { JoinedInstrument } from './channels.js';
import { startGuarded, type GuardedInstrument } from './guarded-driver.js';
import { InstrumentTaps } from './instrument-taps.js';
import type { LinkedDevice } from './outputs.js';
import { outsidePlace } from './outside-drivers.js';
import { SensorReadings } from './sensors/sensor-readings.js';
import { whoseStray } from './stray-problems.js';
import { TypedInstruments } from './typed-instruments.js';
import type { WatchEvent } from './watch/events.js';
import type { WatchState } from './watch/watch.js';
import type { Clock } from '../drivers/clock.js';
import type { Capture, DriverContext, InstrumentEvent } from '../drivers/driver.js';
import type { Link } from '../drivers/link.js';
import { DRIVERS } from '../drivers/registry.js';

export interface InstrumentSurroundings {
  /** Drivers from outside are named from there. */
  readonly benchFile: string;
  /** The session's own time. */
  readonly clock: Clock;
  /** Not asked for an instrument whose readings a person types. */
  readonly linkFor: (device: LinkedDevice) => Link;
  readonly state: () => WatchState;
  readonly take: (event: WatchEvent) => void;
}

/** The instruments of one session: what their drivers tell becomes the session's events. */
export class SessionInstruments {
  /** What the instruments send, as it comes. */
  readonly taps = new InstrumentTaps();
  readonly #joined: readonly JoinedInstrument[];
  readonly #around: InstrumentSurroundings;
  readonly #running: (GuardedInstrument & { readonly driver: string })[] = [];
  readonly #typed = new TypedInstruments();
  readonly #sensors: SensorReadings;

  constructor(joined: readonly JoinedInstrument[], around: InstrumentSurroundings) {
    this.#joined = joined;
    this.#around = around;
    this.#sensors = new SensorReadings(joined);
  }

  start(): void {
    for (const instrument of this.#joined)
      this.#running.push({ ...this.#start(instrument), driver: instrument.spec.driver });
  }

  /** See `Session`. */
  takeStray(problem: unknown): boolean {
    const outside = this.#running.filter(({ driver }) => !Object.hasOwn(DRIVERS, driver));
    const guilty = whoseStray(problem, outside, ({ driver }) => outsidePlace(driver, this.#around.benchFile));
    return guilty.filter((instrument) => instrument.takeStray(problem)).length > 0;
  }

  /** A reading that a person typed. Returns why it isn't taken, for a person; null when it is. */
  type(instrument: string, channel: string, text: string): string | null {
    return this.#typed.type(instrument, channel, text);
  }

  async stop(): Promise<void> {
    await Promise.all(this.#running.map((instrument) => instrument.stop()));
  }

  #start(instrument: JoinedInstrument): GuardedInstrument {
    const { name, driver, spec, channels } = instrument;
    const { clock, linkFor, take } = this.#around;
    const context: DriverContext = {
      instrument: name,
      link:
        driver.typed === undefined
          ? this.taps.linkOf(name, linkFor(instrument), () => clock.nowMs())
          : this.#typed.linkFor(instrument),
      channels,
      options: spec.options,
      clock,
      emit: (event) => {
        const seen = this.#toWatchEvent(name, event);
        if (seen.kind === 'reading') this.taps.note(name, seen);
        take(seen);
      },
      onCapture: (capture) => take(this.#toCaptureEvent(name, capture)),
    };
    return startGuarded(driver, context, ({ fault, state }) => {
      take({ ...fault, instrument: name, count: 1 });
      take(this.#toWatchEvent(name, state));
    });
  }

  #toWatchEvent(instrument: string, event: InstrumentEvent): WatchEvent {
    switch (event.kind) {
      case 'reading':
        return { ...this.#sensors.reading(instrument, event), instrument };
      case 'fault':
        return { ...event, instrument };
      case 'state':
        return { ...event, kind: 'instrument', instrument };
      case 'identity': {
        const { instruments } = this.#around.state();
        const known = instruments.find(({ name }) => name === instrument);
        const { state, why } = known ?? { state: 'open', why: '' };
        return { kind: 'instrument', atMs: event.atMs, instrument, state, why, identity: event.text };
      }
    }
  }

  #toCaptureEvent(instrument: string, capture: Capture): WatchEvent {
    const seen = this.#sensors.capture(instrument, capture);
    const state = this.#around.state();
    if (seen !== null) return captureEvent(instrument, seen, state);
    const why = 'its sensor is not read by captures; measure it with a meter';
    return captureFault(instrument, capture, why, state);
  }
}
