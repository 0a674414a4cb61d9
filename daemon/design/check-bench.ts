import type { Accuracy, Bench } from './bench.js';
import { unknownPoint } from './check-points.js';
import { shown, type Finding } from './file-problems.js';
import { isTestPointId, measurandsFor, testPointsOf, type Topology } from './test-points.js';

/** What the bench's schema can't see. With a design, test points must exist in it. */
export function checkBench(bench: Bench, design?: Topology): Finding[] {
  const inputs = Object.entries(bench.instruments).flatMap(([name, { channels }]) =>
    Object.entries(channels).flatMap(([channel, { at, measures, sensor, accuracy }]) => {
      const path = ['instruments', name, 'channels', channel];
      // What a sensor makes of it is known where the drivers are joined.
      const seen = sensor === undefined ? measures : null;
      return [
        ...(at === undefined ? [] : checkPlace(path, at, seen, design)),
        ...checkRanges([...path, 'accuracy', 'ranges'], accuracy),
      ];
    }),
  );
  return [...inputs, ...checkHooks(bench), ...(design === undefined ? [] : checkCutOffs(bench, design))];
}

function checkHooks({ hooks = [] }: Bench): Finding[] {
  return hooks.flatMap(({ run, post }, index) => {
    if ((run === undefined) !== (post === undefined)) return [];
    const found = run === undefined ? 'neither run nor post' : 'both run and post';
    const sentence = `found ${found}; one of run and post is allowed`;
    return [{ path: ['hooks', String(index)], found, allowed: 'one of run and post', sentence }];
  });
}

function checkCutOffs({ outputs = {} }: Bench, design: Topology): Finding[] {
  const points = testPointsOf(design);
  return Object.entries(outputs).flatMap(([name, { cuts_off_at = [] }]) =>
    cuts_off_at.flatMap((id, index) =>
      points.includes(id) ? [] : [unknownPoint(['outputs', name, 'cuts_off_at', String(index)], id, design)],
    ),
  );
}

function checkPlace(
  path: readonly string[],
  at: string,
  measures: string | null,
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
  return measures === null ? [] : checkFit(place, at, measures);
}

/** Whether a probe that sees this quantity can sit there. */
export function checkFit(place: readonly string[], at: string, measures: string): Finding[] {
  const fitting = measurandsFor(at);
  if (fitting.length === 0 || fitting.some((measurand) => measurand === measures)) return [];
  const allowed = fitting.join(' or ');
  const sentence = `found ${shown(at)}, but the channel measures ${measures}; a channel that measures ${allowed} can sit there`;
  return [{ path: place, found: shown(at), allowed, sentence }];
}

/** Ranges stand in ascending order, as a meter's manual has them. */
function checkRanges(path: readonly string[], accuracy: Accuracy | undefined): Finding[] {
  const ranges = accuracy?.ranges ?? [];
  return ranges.flatMap(({ up_to }, index) => {
    const before = ranges[index - 1]?.up_to ?? 0;
    if (up_to > before) return [];
    const allowed = `more than ${before}, the range before it`;
    const sentence = `found ${up_to}; ${allowed}, is allowed`;
    return [{ path: [...path, String(index), 'up_to'], found: String(up_to), allowed, sentence }];
  });
}
