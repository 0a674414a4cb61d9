import type { JoinedInstrument } from '../channels.js';
import { didYouMean } from '../design/closest.js';
import { shown, type Finding } from '../design/file-problems.js';

/** A channel of the bench by both its names. */
export interface ChannelPlace {
  readonly instrument: string;
  readonly channel: string;
}

/**
 * The channel that a sensor's `cold_junction` means: one of the same instrument by its name, one of another as
 * `instrument channel`. Null when there is none.
 */
export function coldJunctionPlace(
  named: string,
  of: ChannelPlace,
  instruments: readonly JoinedInstrument[],
): ChannelPlace | null {
  const places = instruments.flatMap(({ name, channels }) =>
    channels.map((one) => ({ instrument: name, channel: one.name })),
  );
  return (
    places.find((one) => one.instrument === of.instrument && one.channel === named) ??
    places.find((one) => `${one.instrument} ${one.channel}` === named) ??
    null
  );
}

/** Cold junctions that no channel measures, or one that doesn't measure a temperature. */
export function coldJunctionFindings(instruments: readonly JoinedInstrument[]): Finding[] {
  return instruments.flatMap((instrument) =>
    [...instrument.sensors].flatMap(([channel, { convert }]) => {
      const named = convert.coldJunctionChannel;
      if (named === null) return [];
      const place = coldJunctionPlace(named, { instrument: instrument.name, channel }, instruments);
      const isItself = place?.instrument === instrument.name && place.channel === channel;
      if (place !== null && !isItself && measuresTemperature(place, instruments)) return [];
      const path = ['instruments', instrument.name, 'channels', channel, 'sensor', 'cold_junction'];
      const allowed = 'the name of another channel that measures a temperature, or degrees C';
      const names = instrument.channels.map(({ name }) => name).filter((name) => name !== channel);
      const sentence = `found ${shown(named)}; allowed is ${allowed}${place === null ? didYouMean(named, names) : ''}`;
      return [{ path, found: shown(named), allowed, sentence }];
    }),
  );
}

function measuresTemperature(place: ChannelPlace, instruments: readonly JoinedInstrument[]): boolean {
  const instrument = instruments.find(({ name }) => name === place.instrument);
  const spec = instrument?.channels.find(({ name }) => name === place.channel);
  return (instrument?.sensors.get(place.channel)?.measures ?? spec?.measures) === 'temperature';
}
