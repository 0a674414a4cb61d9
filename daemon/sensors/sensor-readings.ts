import type { JoinedInstrument } from '../channels.js';
import { coldJunctionPlace, type ChannelPlace } from './cold-junctions.js';
import type { JoinedSensor } from './joined-sensor.js';
import type { Capture, InstrumentEvent } from '../../drivers/driver.js';
import { UNIT_OF } from '../../drivers/units.js';

type Reading = Extract<InstrumentEvent, { readonly kind: 'reading' }>;

interface Temperature {
  readonly value: number | null;
  readonly atMs: number;
}

interface SensorInPlace {
  readonly sensor: JoinedSensor;
  /** The key of the channel that measures its cold junction, and how long a reading of that counts. */
  readonly coldJunction: { readonly key: string; readonly goodForMs: number } | null;
}

/** So many intervals after its last reading a cold junction is not known any more. */
const OLD_INTERVALS = 3;

/** Turns what instruments see into what is at the test point, where a sensor stands between. */
export class SensorReadings {
  readonly #sensors = new Map<string, SensorInPlace>();
  /** The newest temperature of each channel that is some sensor's cold junction. */
  readonly #coldJunctions = new Map<string, Temperature | null>();

  constructor(instruments: readonly JoinedInstrument[]) {
    for (const { name, sensors } of instruments)
      for (const [channel, sensor] of sensors) {
        const named = sensor.convert.coldJunctionChannel;
        const place =
          named === null ? null : coldJunctionPlace(named, { instrument: name, channel }, instruments);
        const coldJunction = place && { key: keyOf(place), goodForMs: goodForMs(place, instruments) };
        this.#sensors.set(keyOf({ instrument: name, channel }), { sensor, coldJunction });
        if (coldJunction !== null) this.#coldJunctions.set(coldJunction.key, null);
      }
  }

  /** A reading as it is at the test point. */
  reading(instrument: string, reading: Reading): Reading {
    if (this.#sensors.size === 0) return reading;
    const key = keyOf({ instrument, channel: reading.channel });
    const converted = this.#converted(key, reading);
    if (this.#coldJunctions.has(key)) this.#coldJunctions.set(key, converted);
    return converted;
  }

  /** A capture as it is at the test point; null through a sensor that isn't read by captures. */
  capture(instrument: string, capture: Capture): Capture | null {
    const found = this.#sensors.get(keyOf({ instrument, channel: capture.channel }));
    if (found === undefined) return capture;
    const { captureFactor: factor, measures } = found.sensor;
    if (factor === null) return null;
    const unit = measures === 'dc-amps' || measures === 'ac-amps' ? 'A' : 'V';
    return { ...capture, unit, scale: capture.scale * factor, offset: capture.offset * factor };
  }

  #converted(key: string, reading: Reading): Reading {
    const found = this.#sensors.get(key);
    if (found === undefined) return reading;
    const { sensor, coldJunction } = found;
    const unit = UNIT_OF[sensor.measures];
    if (reading.value === null) return { ...reading, unit };
    const { channel, atMs } = reading;
    const cold = coldJunction === null ? null : (this.#coldJunctions.get(coldJunction.key) ?? null);
    const isGood = cold !== null && atMs - cold.atMs <= (coldJunction?.goodForMs ?? 0);
    const { value, mark } = sensor.convert.value(reading.value, isGood ? cold.value : null);
    return { kind: 'reading', atMs, channel, value, unit, ...(mark !== null && { mark }) };
  }
}

function goodForMs({ instrument, channel }: ChannelPlace, instruments: readonly JoinedInstrument[]): number {
  const plans = instruments.flatMap((one) => one.plans);
  const plan = plans.find((one) => one.instrument === instrument && one.channel === channel);
  return OLD_INTERVALS * (plan?.intervalMs ?? 0);
}

function keyOf({ instrument, channel }: ChannelPlace): string {
  return `${instrument} ${channel}`;
}
