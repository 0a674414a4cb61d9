import { captureEvent, captureFault } from './capture-event.js';
import type { JoinedInstrument } from './channels.js';
import { startGuarded } from './guarded-driver.js';
import { InstrumentTaps } from './instrument-taps.js';
import type { LinkedDevice } from './outputs.js';
import { SensorReadings } from './sensors/sensor-readings.js';
import { TypedInstruments } from './typed-instruments.js';
import type { WatchEvent } from './watch/events.js';
import type { WatchState } from './watch/watch.js';
import type { Clock } from '../drivers/clock.js';
import type { Capture, DriverContext, InstrumentEvent, RunningInstrument } from '../drivers/driver.js';
import type { Link } from '../drivers/link.js';

export interface InstrumentSurroundings {
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
  readonly #running: RunningInstrument[] = [];
  readonly #typed = new TypedInstruments();
  readonly #sensors: SensorReadings;

  constructor(joined: readonly JoinedInstrument[], around: InstrumentSurroundings) {
    this.#joined = joined;
    this.#around = around;
    this.#sensors = new SensorReadings(joined);
  }

  start(): void {
    for (const instrument of this.#joined) this.#running.push(this.#start(instrument));
  }

  /** A reading that a person typed. Returns why it isn't taken, for a person; null when it is. */
  type(instrument: string, channel: string, text: string): string | null {
    return this.#typed.type(instrument, channel, text);
  }

  async stop(): Promise<void> {
    await Promise.all(this.#running.map((instrument) => instrument.stop()));
  }

  #start(instrument: JoinedInstrument): RunningInstrument {
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
