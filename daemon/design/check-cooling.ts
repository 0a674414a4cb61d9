import { checkPart } from './check-part.js';
import { closest, didYouMean } from './closest.js';
import type { Design } from './design.js';
import type { Cooling, HeatsinkMeasures } from './design-cooling.js';
import { shown, type Finding } from './file-problems.js';
import { INTERFACES } from './parts/interfaces.js';
import { partsOf } from './own-parts.js';

/** Package, interface and heatsink of one part against the library and the shared heatsinks. */
export function checkCooling(path: readonly string[], cooling: Cooling, design: Design): Finding[] {
  const { heatsink } = cooling;
  return [
    ...checkPart([...path, 'package'], cooling.package, [...partsOf(design).packages.keys()], 'a package'),
    ...checkPart([...path, 'interface'], cooling.interface, [...INTERFACES.keys()], 'an interface'),
    ...(typeof heatsink === 'string' ? checkShared([...path, 'heatsink'], heatsink, design) : []),
    ...(typeof heatsink === 'object' ? checkMeasures([...path, 'heatsink'], heatsink) : []),
    ...(typeof heatsink === 'number' ? [] : checkCapacity([...path, 'heat_capacity'], cooling)),
  ];
}

/** Shared heatsinks: their names and measures. */
export function checkHeatsinks({ heatsinks = {} }: Pick<Design, 'heatsinks'>): Finding[] {
  return Object.entries(heatsinks).flatMap(([name, heatsink]) => {
    const path = ['heatsinks', name];
    const size = typeof heatsink === 'object' && 'length_mm' in heatsink ? checkMeasures(path, heatsink) : [];
    if (name !== 'none') return size;
    const allowed = 'another name';
    const sentence = `found a heatsink called "none", which means a bare package; ${allowed} is allowed`;
    return [...size, { path, found: shown(name), allowed, sentence }];
  });
}

/** Measures give it, a shared heatsink has its own, and a bare package has none. */
function checkCapacity(path: readonly string[], { heat_capacity }: Cooling): Finding[] {
  if (heat_capacity === undefined) return [];
  const found = String(heat_capacity);
  const allowed = 'heat_capacity beside a number of K/W';
  return [{ path, found, allowed, sentence: `found ${found}; ${allowed} is allowed, so leave it out` }];
}

function checkShared(path: readonly string[], name: string, { heatsinks = {} }: Design): Finding[] {
  const shared = Object.keys(heatsinks);
  if (name === 'none' || shared.includes(name)) return [];
  const found = shown(name);
  if (shared.length === 0) {
    const allowed = 'a positive number of K/W, or none for a bare package,';
    const meant = closest(name, ['none'], 1).length > 0 ? '; did you mean none?' : '';
    return [{ path, found, allowed, sentence: `found ${found}; ${allowed} is allowed${meant}` }];
  }
  const allowed = ['none', ...shared].join(', ');
  const guess = didYouMean(name, ['none', ...shared]);
  const sentence = `found ${found}, which doesn't stand under heatsinks; allowed are a number of K/W, ${allowed}${guess}`;
  return [{ path, found, allowed, sentence }];
}

/** A fin must be taller than the base, and air must pass between the fins. */
function checkMeasures(path: readonly string[], size: HeatsinkMeasures): Finding[] {
  const { fins, fin_mm, base_mm, width_mm, height_mm } = size;
  if (fins === 0) return [];
  if (fins === 1) return [wrong([...path, 'fins'], '1', 'two fins or more, or 0 for a plate,')];
  const widest = (width_mm / fins) * 0.9;
  if (fin_mm > widest) {
    const allowed = `fins of at most ${widest.toPrecision(2)} mm (fin_mm), for ${fins} of them must fit ${width_mm} mm with air between,`;
    return [wrong([...path, 'fins'], String(fins), allowed)];
  }
  if (height_mm > base_mm) return [];
  return [
    wrong([...path, 'height_mm'], String(height_mm), `more than the base (${base_mm} mm), fins included,`),
  ];
}

function wrong(path: readonly string[], found: string, allowed: string): Finding {
  return { path, found, allowed, sentence: `found ${found}; ${allowed} is allowed` };
}
