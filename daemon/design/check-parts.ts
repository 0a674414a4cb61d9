import { checkPart } from './check-part.js';
import type { Design } from './design.js';
import type { OwnDiode, OwnParts } from './design-parts.js';
import { shown, type Finding } from './file-problems.js';
import { lawOf } from './own-parts.js';
import { DIODES } from './parts/diodes.js';
import { PACKAGES } from './parts/packages.js';
import { REGULATORS } from './parts/regulators.js';

/** The user's own parts: like something that exists, under a name that is free, with spreads the right way round. */
export function checkOwnParts({ parts }: Pick<Design, 'parts'>): Finding[] {
  if (parts === undefined) return [];
  return [
    ...checkKind('regulators', parts.regulators, [...REGULATORS.keys()], 'a regulator'),
    ...checkKind('diodes', parts.diodes, [...DIODES.keys()], 'a diode'),
    ...checkKind('packages', parts.packages, [...PACKAGES.keys()], 'a package'),
    ...Object.entries(parts.diodes).flatMap(([name, diode]) => checkCurve(name, diode)),
  ];
}

function checkKind(
  kind: keyof OwnParts,
  own: Readonly<Record<string, { readonly like: string }>>,
  library: readonly string[],
  what: string,
): Finding[] {
  return Object.entries(own).flatMap(([name, part]) => {
    const path = ['parts', kind, name];
    return [
      ...checkFree(path, name, library, what),
      ...checkPart([...path, 'like'], part.like, library, what),
      ...Object.entries(part).flatMap(([key, value]) => checkSpread([...path, key], value)),
    ];
  });
}

function checkFree(
  path: readonly string[],
  name: string,
  library: readonly string[],
  what: string,
): Finding[] {
  if (!library.includes(name)) return [];
  const allowed = `a name that the part library doesn't have (${name}-b for example)`;
  const sentence = `found ${shown(name)}, ${what} that the part library has already; ${allowed} is allowed`;
  return [{ path, found: shown(name), allowed, sentence }];
}

function checkSpread(path: readonly string[], value: unknown): Finding[] {
  if (
    typeof value !== 'object' ||
    value === null ||
    !('low' in value && 'typical' in value && 'high' in value)
  ) {
    return [];
  }
  const { low, typical, high } = value as { low: number; typical: number; high: number };
  if (low <= typical && typical <= high) return [];
  const found = `${low}, ${typical}, ${high}`;
  const allowed = 'low, typical and high in rising order';
  return [{ path, found, allowed, sentence: `found ${found}; ${allowed} are allowed` }];
}

function checkCurve(name: string, { curve }: OwnDiode): Finding[] {
  if (curve === undefined) return [];
  try {
    lawOf(curve);
    return [];
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    const found = curve.map(([volts, amps]) => `${volts} V at ${amps} A`).join(', ');
    const allowed = 'two points of a forward curve, the second at more amps and clearly more volts,';
    const path = ['parts', 'diodes', name, 'curve'];
    return [{ path, found, allowed, sentence: `found ${found}; ${allowed} are allowed` }];
  }
}
