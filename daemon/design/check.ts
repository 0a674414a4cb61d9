import { checkCooling, checkHeatsinks } from './check-cooling.js';
import { checkPart } from './check-part.js';
import { checkFeeds } from './check-feeds.js';
import { checkOwnParts } from './check-parts.js';
import { checkPoints } from './check-points.js';
import { checkRail } from './check-rail.js';
import { checkSource } from './check-source.js';
import type { Design } from './design.js';
import { shown, type Finding } from './file-problems.js';
import { unitSlip } from './number-slips.js';
import { partsOf } from './own-parts.js';
import { RESERVED_NAMES } from './test-points.js';

/** What a schema can't see: parts that don't exist, numbers that can't be meant, values that contradict each other. */
export function checkDesign(design: Design): Finding[] {
  const slips = unitSlips(design);
  // A slip by a factor of a thousand makes every other check speak of its consequences.
  if (slips.length > 0) return slips;
  const own = checkOwnParts(design);
  // A part that can't be made up would be missing everywhere that it is named.
  if (own.length > 0) return own;
  return [
    ...checkAmbient(design),
    ...checkSource(design),
    ...checkPart(
      ['rectifier', 'diode'],
      design.rectifier.diode,
      [...partsOf(design).diodes.keys()],
      'a diode',
    ),
    ...checkHeatsinks(design),
    ...(design.filter?.kind === 'multiplier'
      ? checkCooling(['filter', 'cooling'], design.filter.cooling, design)
      : []),
    ...Object.keys(design.rails).flatMap((name) => checkName(name)),
    ...checkFeeds(design),
    ...Object.keys(design.rails).flatMap((name) => checkRail(name, design)),
    ...checkPoints(design),
  ];
}

function unitSlips(design: Design): Finding[] {
  return numbersIn(design, []).flatMap(([path, value]) => {
    const slip = unitSlip(path.join('.'), value);
    if (slip === null) return [];
    const guess = slip.meant === null ? '' : `; did you mean ${slip.meant}?`;
    const sentence = `found ${value}; ${slip.allowed} are allowed${guess}`;
    return [{ path, found: String(value), allowed: slip.allowed, sentence }];
  });
}

function numbersIn(value: unknown, path: readonly string[]): [readonly string[], number][] {
  if (typeof value === 'number') return [[path, value]];
  if (typeof value !== 'object' || value === null) return [];
  return Object.entries(value).flatMap(([key, inner]) => numbersIn(inner, [...path, key]));
}

function checkAmbient({ mains: { ambient } }: Design): Finding[] {
  if (ambient.typical <= ambient.highest) return [];
  const allowed = `${ambient.typical} (typical) or more degrees C`;
  const sentence = `found ${ambient.highest}; ${allowed} is allowed, since the highest can't lie below the typical`;
  return [{ path: ['mains', 'ambient', 'highest'], found: String(ambient.highest), allowed, sentence }];
}

function checkName(name: string): Finding[] {
  if (!RESERVED_NAMES.some((reserved) => reserved === name)) return [];
  const allowed = `a rail name other than ${RESERVED_NAMES.join(', ')}`;
  const sentence = `found a rail called ${shown(name)}, which is the name of a part; ${allowed} is allowed`;
  return [{ path: ['rails', name], found: shown(name), allowed, sentence }];
}
