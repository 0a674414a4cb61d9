import type { JoinedInstrument } from './channels.js';
import { isTestPointId } from './design/test-points.js';
import { isReadByEye } from './typed-instruments.js';
import type { Way, Ways } from './watch/suspects/next-point.js';
import type { ChannelSpec } from '../drivers/driver.js';

/** What only a waveform shows, and a ripple that a waveform shows too. */
const IN_A_CAPTURE = /\.(valley|ripple)$/;

/**
 * How the bench measures each test point that it can: the channel that is named after it or sits there at the start,
 * else one that can be moved there, with a cable before one that a person reads. A channel that is named after a test
 * point stays where it is.
 * @param points the ids of the design's test points
 */
export function waysTo(instruments: readonly JoinedInstrument[], points: readonly string[]): Ways {
  const ranked = instruments.flatMap((instrument) =>
    instrument.channels.flatMap((channel) => ranksOf(instrument, channel, points)),
  );
  ranked.sort((a, b) => b.rank - a.rank);
  return Object.fromEntries(ranked.map(({ point, way }) => [point, way]));
}

/** Whether one of the instruments can be put on a test point, or sits there. */
export function canMeasure(
  instruments: readonly JoinedInstrument[],
  points: readonly string[],
): (point: string) => boolean {
  const ways = waysTo(instruments, points);
  return (point) => Object.hasOwn(ways, point);
}

/** The points that a channel gets to; the lowest rank comes before the others. */
function ranksOf(
  instrument: JoinedInstrument,
  channel: ChannelSpec,
  points: readonly string[],
): { readonly point: string; readonly rank: number; readonly way: Way }[] {
  const isTyped = instrument.driver.typed !== undefined;
  const way = { instrument: instrument.name, channel: channel.name, isTyped };
  const at = instrument.probes.get(channel.name);
  const sits = at === undefined ? [] : [{ point: at, rank: 0, way }];
  if (isTestPointId(channel.name)) return sits;
  const movable = points.filter((point) => point !== at && reads(instrument, channel, point));
  return [...sits, ...movable.map((point) => ({ point, rank: isTyped ? 2 : 1, way }))];
}

function reads(
  { driver, sensors }: JoinedInstrument,
  { name, measures }: ChannelSpec,
  point: string,
): boolean {
  const own = sensors.get(name)?.measures ?? measures;
  if (driver.captures === true && IN_A_CAPTURE.test(point)) return own === 'dc-volts';
  return isReadByEye(point, own);
}
