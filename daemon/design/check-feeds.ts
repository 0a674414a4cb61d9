import { closest } from './closest.js';
import type { Design } from './design.js';
import { nodesOf, type Nodes } from './feeds.js';
import { shown, type Finding } from './file-problems.js';

type Fed = Pick<Design, 'rails'> & Nodes;

/** What feeds each rail: a place that exists, and no rail that feeds itself through others. */
export function checkFeeds(design: Fed): Finding[] {
  const unknown = Object.entries(design.rails).flatMap(([name, { from }]) => unknownFeed(name, from, design));
  return unknown.length > 0 ? unknown : loops(design.rails);
}

function unknownFeed(name: string, from: string, design: Fed): Finding[] {
  const rails = Object.keys(design.rails);
  const nodes = nodesOf(design);
  if (nodes.includes(from) || rails.includes(from)) return [];
  const places = [...nodes, ...rails.filter((rail) => rail !== name)];
  const allowed = places.join(', ');
  const sentence = `found ${shown(from)}, ${missingWords(from, design, places)}`;
  return [{ path: ['rails', name, 'from'], found: shown(from), allowed, sentence }];
}

function missingWords(from: string, { rectifier }: Fed, places: readonly string[]): string {
  const allowed = `allowed are ${places.join(', ')}`;
  if (from === 'filter') return `but the design has no filter; describe one under filter, or ${allowed}`;
  if (from === 'negative-reservoir') {
    return `but a ${rectifier.kind} rectifier charges no negative reservoir; take kind split-bridge, or ${allowed}`;
  }
  const [guess] = closest(from, places, 1);
  const meant = guess === undefined ? '' : `; did you mean ${guess}?`;
  return `which the design doesn't have; ${allowed}${meant}`;
}

/** One message a loop, at the first of its rails in the file. */
function loops(rails: Design['rails']): Finding[] {
  const told = new Set<string>();
  return Object.keys(rails).flatMap((name) => {
    const walk = [name];
    for (
      let from = rails[name]?.from;
      from !== undefined && Object.hasOwn(rails, from);
      from = rails[from]?.from
    ) {
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
