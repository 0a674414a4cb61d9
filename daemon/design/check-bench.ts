import type { Bench } from './bench.js';
import { unknownPoint } from './check-points.js';
import { shown, type Finding } from './file-problems.js';
import { isTestPointId, measurandsFor, testPointsOf, type Topology } from './test-points.js';

/** What the bench's schema can't see. With a design, test points must exist in it. */
export function checkBench(bench: Bench, design?: Topology): Finding[] {
  return Object.entries(bench.instruments).flatMap(([name, { channels }]) =>
    Object.entries(channels).flatMap(([channel, { at, measures }]) =>
      at === undefined ? [] : checkPlace(['instruments', name, 'channels', channel], at, measures, design),
    ),
  );
}

function checkPlace(
  path: readonly string[],
  at: string,
  measures: string,
  design: Topology | undefined,
): Finding[] {
  const place = [...path, 'at'];
  if (!isTestPointId(at)) {
    const allowed = 'a test point id, a part or rail and a quantity with a dot between (logic.volts),';
    return [
      { path: place, found: shown(at), allowed, sentence: `found ${shown(at)}; ${allowed} is allowed` },
    ];
  }
  if (design && !testPointsOf(design).includes(at)) return [unknownPoint(place, at, design)];
  const fitting = measurandsFor(at);
  if (fitting.length === 0 || fitting.some((measurand) => measurand === measures)) return [];
  const allowed = fitting.join(' or ');
  const sentence = `found ${shown(at)}, but the channel measures ${measures}; a channel that measures ${allowed} can sit there`;
  return [{ path: place, found: shown(at), allowed, sentence }];
}
