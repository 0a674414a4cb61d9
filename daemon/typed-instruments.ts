import type { JoinedInstrument } from './channels.js';
import type { Bench } from './design/bench.js';
import { isTestPointId, measurandsFor } from './design/test-points.js';
import type { TypedChannel } from './serve/typing.js';
import type { Link } from '../drivers/link.js';
import { memoryLinkPair, type MemoryFarEnd } from '../drivers/links/memory.js';

interface TypedInstrument {
  readonly instrument: JoinedInstrument;
  readonly far: MemoryFarEnd;
}

/** Takes what a person types to the drivers that make readings of it. */
export class TypedInstruments {
  readonly #byName = new Map<string, TypedInstrument>();

  /** The link of an instrument whose readings are typed. */
  linkFor(instrument: JoinedInstrument): Link {
    const { link, far } = memoryLinkPair('typed by hand');
    this.#byName.set(instrument.name, { instrument, far });
    return link;
  }

  /** Hands one reading on; returns why not when it is none, for a person. */
  type(name: string, channel: string, text: string): string | null {
    const typed = this.#byName.get(name);
    const entry = typed?.instrument.driver.typed;
    const spec = typed?.instrument.channels.find((one) => one.name === channel);
    if (typed === undefined || entry === undefined || spec === undefined) {
      return `Nothing is typed for ${name} ${channel}.`;
    }
    const why = entry.whyNot(text, spec.measures);
    if (why === null) typed.far.send(entry.line(channel, text));
    return why;
  }
}

type Measurand = Bench['instruments'][string]['channels'][string]['measures'];

/** Whether a person with a meter gets a point's value: it shows the mean, not a valley, and no probe reaches a junction. */
export function isReadByEye(point: string, measures: Measurand): boolean {
  return !/\.(valley|junction)$/.test(point) && measurandsFor(point).includes(measures);
}

/**
 * The channels of an instrument whose readings are typed; none for one with a cable. One that is named
 * after a test point stays there.
 * @param points the ids of the design's test points
 */
export function typedChannelsOf(
  { name, driver, channels, sensors }: JoinedInstrument,
  points: readonly string[],
): readonly TypedChannel[] {
  if (driver.typed === undefined) return [];
  return channels.map(({ name: channel, measures }) => ({
    instrument: name,
    channel,
    points: points.filter((point) =>
      isTestPointId(channel)
        ? point === channel
        : isReadByEye(point, sensors.get(channel)?.measures ?? measures),
    ),
  }));
}
