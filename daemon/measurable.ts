import type { JoinedInstrument } from './channels.js';
import { isTestPointId, measurandsFor } from './design/test-points.js';
import { typedChannelsOf } from './typed-instruments.js';

/**
 * Whether one of the instruments can be put on a test point, or sits there. A channel that is named after a test
 * point stays where it is.
 * @param points the ids of the design's test points
 */
export function canMeasure(
  instruments: readonly JoinedInstrument[],
  points: readonly string[],
): (point: string) => boolean {
  const reached = new Set(instruments.flatMap((instrument) => reachedBy(instrument, points)));
  return (point) => reached.has(point);
}

function reachedBy(instrument: JoinedInstrument, points: readonly string[]): readonly string[] {
  if (instrument.driver.typed !== undefined) {
    return typedChannelsOf(instrument, points).flatMap((channel) => channel.points);
  }
  return instrument.channels.flatMap(({ name, measures }) => {
    const own = instrument.sensors.get(name)?.measures ?? measures;
    const at = instrument.probes.get(name);
    const movable = isTestPointId(name) ? [] : points.filter((point) => measurandsFor(point).includes(own));
    return at === undefined ? movable : [at, ...movable];
  });
}
