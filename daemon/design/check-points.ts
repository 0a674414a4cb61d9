import type { Design } from './design.js';
import { shown, type Finding } from './file-problems.js';
import { closestTestPoints, testPointsOf, type Topology } from './test-points.js';

/** The design's own labels and limits for test points. */
export function checkPoints(design: Design): Finding[] {
  const ids = testPointsOf(design);
  return Object.entries(design.points).flatMap(([id, { limit }]): Finding[] => {
    if (!ids.includes(id)) return [unknownPoint(['points', id], id, design)];
    if (limit?.low === undefined || limit.high === undefined || limit.low < limit.high) return [];
    const allowed = `a low limit below the high one (${limit.high})`;
    const sentence = `found ${limit.low}; ${allowed} is allowed`;
    return [{ path: ['points', id, 'limit', 'low'], found: String(limit.low), allowed, sentence }];
  });
}

/** A test point id that the design doesn't have. */
export function unknownPoint(path: readonly string[], id: string, design: Topology): Finding {
  const near = closestTestPoints(id, design);
  const allowed = testPointsOf(design).join(', ');
  const cure = near.length > 0 ? `did you mean ${near.join(' or ')}?` : `there are ${allowed}`;
  return { path, found: shown(id), allowed, sentence: `this design has no such test point; ${cure}` };
}
