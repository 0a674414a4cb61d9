import type { FaultBands } from './fault-clouds.js';
import type { PointPrediction, Prediction } from './prediction.js';
import { digits, UNIT_WORDS, wrapped } from './words.js';

/** The most telling test points of a fault; more wouldn't be read. */
const MOST_POINTS = 4;

/** What each fault would read, for a person at a terminal: the points that leave the healthy band, furthest first. */
export function faultTable(prediction: Prediction, faults: readonly FaultBands[]): string {
  return [
    'What each known fault would read',
    ...faults.flatMap((fault) => faultLines(prediction, fault)),
  ].join('\n');
}

function faultLines({ points }: Prediction, { fault, title, trouble, points: faulty }: FaultBands): string[] {
  const head = wrapped(`${title} (${fault})`, '  ');
  if (trouble !== '') return [...head, ...wrapped(trouble, '    ')];
  const moved = Object.entries(faulty)
    .flatMap(([id, { low, typical, high }]) => {
      const healthy = points[id];
      if (healthy === undefined) return [];
      const distance = Math.abs(typical - healthy.typical) / Math.max(healthy.high - healthy.low, 1e-9);
      const apart = typical < healthy.low || typical > healthy.high;
      return apart ? [{ distance, line: movedWords(healthy, low, high) }] : [];
    })
    .sort((a, b) => b.distance - a.distance)
    .slice(0, MOST_POINTS);
  return moved.length === 0
    ? [...head, '    stays inside every band: only a look or a touch finds it']
    : [...head, ...moved.map(({ line }) => `    ${line}`)];
}

function movedWords({ id, unit, low, high }: PointPrediction, faultyLow: number, faultyHigh: number): string {
  const range = (from: number, to: number) => `${digits(from, unit)} to ${digits(to, unit)}`;
  return `${id.padEnd(24)} ${range(faultyLow, faultyHigh)} ${UNIT_WORDS[unit]}, not ${range(low, high)}`;
}
