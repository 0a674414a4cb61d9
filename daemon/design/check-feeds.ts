import { closest } from './closest.js';
import type { Design } from './design.js';
import { shown, type Finding } from './file-problems.js';

/** What feeds each rail: a place that exists, and no rail that feeds itself through others. */
export function checkFeeds({ rails }: Pick<Design, 'rails'>): Finding[] {
  const unknown = Object.entries(rails).flatMap(([name, { from }]) =>
    unknownFeed(name, from, Object.keys(rails)),
  );
  return unknown.length > 0 ? unknown : loops(rails);
}

function unknownFeed(name: string, from: string, rails: readonly string[]): Finding[] {
  if (from === 'reservoir' || rails.includes(from)) return [];
  const places = ['reservoir', ...rails.filter((rail) => rail !== name)];
  const [guess] = closest(from, places, 1);
  const allowed = places.join(', ');
  const meant = guess === undefined ? '' : `; did you mean ${guess}?`;
  const sentence = `found ${shown(from)}, which the design doesn't have; allowed are ${allowed}${meant}`;
  return [{ path: ['rails', name, 'from'], found: shown(from), allowed, sentence }];
}

/** One message a loop, at the first of its rails in the file. */
function loops(rails: Design['rails']): Finding[] {
  const told = new Set<string>();
  return Object.keys(rails).flatMap((name) => {
    const walk = [name];
    for (let from = rails[name]?.from; from !== undefined && from !== 'reservoir'; from = rails[from]?.from) {
      if (from === name) return told.has(name) ? [] : loopFinding(walk, told);
      if (walk.includes(from)) return [];
      walk.push(from);
    }
    return [];
  });
}

function loopFinding(loop: readonly string[], told: Set<string>): Finding[] {
  const [name = ''] = loop;
  for (const rail of loop) told.add(rail);
  const way = [...loop, name].join(' from ');
  const sentence = `${way}: these rails feed each other in a circle; one of them must come from the reservoir`;
  return [{ path: ['rails', name, 'from'], found: shown(loop[1] ?? name), allowed: 'reservoir', sentence }];
}
