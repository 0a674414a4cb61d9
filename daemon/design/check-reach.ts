import type { Design, Rail } from './design.js';
import type { Filter } from './design-filter.js';
import { nodesOf } from './feeds.js';
import { shown, type Finding } from './file-problems.js';
import { diodeOf } from './own-parts.js';
import { windingOf } from './parts/transformers.js';
import { railNeed, type RailNeed } from './rail-need.js';
import { unloadedPeak } from './raw-peak.js';

/** Raw volts that can't reach the rail however little is drawn (no load, nominal mains), or a feed that is too low. */
export function checkReach(path: readonly string[], rail: Rail, need: RailNeed, design: Design): Finding[] {
  if (!nodesOf(design).includes(rail.from)) return checkFeed(path, rail, need, design);
  const raw = highestRawVolts(design);
  if (raw === null) return [];
  const lost = rail.from === 'filter' ? leastFilterDrop(design.filter) : 0;
  const highest = raw - lost;
  if (highest >= need.volts + need.dropout.low) return [];
  const { volts: windingVolts } = design.transformer;
  const possible = (highest - need.dropout.low).toFixed(1);
  const winding = Math.ceil((windingVolts * (need.volts + need.dropout.high + lost)) / raw);
  const allowed = `at most ${possible} V from a ${windingVolts} V winding`;
  const behind = lost > 0 ? ' (behind the filter)' : '';
  const sentence =
    `asks for ${need.volts.toFixed(2)} V, but a ${windingVolts} V winding gives at most ` +
    `${highest.toFixed(1)} V unloaded${behind}, so at most ${possible} V after the regulator; ` +
    `lower the rail, or take a winding of at least ${winding} V`;
  return [{ path: [...path, ...need.key], found: need.found, allowed, sentence }];
}

/** A rail fed from another one that is too low for it. */
function checkFeed(path: readonly string[], rail: Rail, need: RailNeed, design: Design): Finding[] {
  const feeding = design.rails[rail.from];
  const source = feeding === undefined ? null : railNeed(feeding, design);
  if (source === null) return [];
  const needed = need.volts + need.dropout.low;
  if (!(source.volts < needed)) return [];
  const found = shown(rail.from);
  const allowed = `a source of at least ${needed.toFixed(1)} V`;
  const sentence = `${rail.from} gives ${source.volts.toFixed(2)} V, but this rail needs ${needed.toFixed(1)} V at its input; ${allowed} is allowed`;
  return [{ path: [...path, 'from'], found, allowed, sentence }];
}

/** What a filter takes at the least, V: a base-emitter or gate-source drop at a small load (common practice). */
function leastFilterDrop(filter: Filter | undefined): number {
  if (filter?.kind !== 'multiplier') return 0;
  switch (filter.follower) {
    case 'bipolar':
      return 0.5;
    case 'darlington':
      return 1;
    case 'mosfet':
      return Math.min(2, filter.threshold ?? 2);
  }
}

/** Null while other parts are wrong. */
function highestRawVolts(design: Design): number | null {
  const { transformer, rectifier } = design;
  const diode = diodeOf(design);
  if ((transformer.va ?? transformer.amps) === undefined || diode === null) return null;
  const { kind } = rectifier;
  return unloadedPeak(windingOf(transformer, kind), { kind, law: diode.law });
}
