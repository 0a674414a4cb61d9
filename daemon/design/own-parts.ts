import type { Design } from './design.js';
import type { OwnDiode, OwnPackage, OwnRegulator } from './design-parts.js';
import { DIODES, lawDropping, lawThrough, type Diode } from './parts/diodes.js';
import { PACKAGES, type Package } from './parts/packages.js';
import { REGULATORS, type Regulator } from './parts/regulators.js';
import type { Spread } from './parts/spread.js';

/** Every part that a design may name: the library's, and its own. */
export interface KnownParts {
  readonly regulators: ReadonlyMap<string, Regulator>;
  readonly diodes: ReadonlyMap<string, Diode>;
  readonly packages: ReadonlyMap<string, Package>;
}

/** The library with a design's own parts added; own parts that are like nothing in the library are left out. */
export function partsOf({ parts }: Pick<Design, 'parts'>): KnownParts {
  if (parts === undefined) return { regulators: REGULATORS, diodes: DIODES, packages: PACKAGES };
  return {
    regulators: withOwn(REGULATORS, parts.regulators, ownRegulator),
    diodes: withOwn(DIODES, parts.diodes, ownDiode),
    packages: withOwn(PACKAGES, parts.packages, ownPackage),
  };
}

/** The design's rectifier diode, with its drop as written; null for a name that isn't known. */
export function diodeOf(design: Pick<Design, 'parts' | 'rectifier'>): Diode | null {
  const { diode, drop } = design.rectifier;
  const part = partsOf(design).diodes.get(diode);
  if (part === undefined) return null;
  return drop === undefined ? part : { ...part, law: lawDropping(part.law, drop) };
}

function withOwn<Part, Own extends { readonly like: string }>(
  library: ReadonlyMap<string, Part>,
  own: Readonly<Record<string, Own>>,
  make: (name: string, own: Own, like: Part) => Part,
): Map<string, Part> {
  const known = new Map(library);
  for (const [name, written] of Object.entries(own)) {
    const like = library.get(written.like);
    if (like !== undefined && !library.has(name)) known.set(name, make(name, written, like));
  }
  return known;
}

type Written = number | Spread | undefined;

/** A spread replaces the other; a number moves it by what it is to the typical value. */
function moved(written: Written, like: Spread): Spread {
  if (written === undefined) return pure(like);
  if (typeof written === 'object') return written;
  if (like.typical === 0)
    return { low: Math.min(written, like.low), typical: written, high: Math.max(written, like.high) };
  const share = written / like.typical;
  return { low: like.low * share, typical: written, high: like.high * share };
}

function pure({ low, typical, high }: Spread): Spread {
  return { low, typical, high };
}

/** Keys whose value was written. */
function writtenOnly<T extends object>(values: T): { [K in keyof T]?: Exclude<T[K], undefined> } {
  return Object.fromEntries(Object.entries(values).filter(([, value]) => value !== undefined)) as {
    [K in keyof T]?: Exclude<T[K], undefined>;
  };
}

function ownRegulator(name: string, own: OwnRegulator, like: Regulator): Regulator {
  const quiet = like.rippleRejectionWithCapacitor_dB;
  return {
    ...like,
    name,
    volts: moved(own.volts, like.volts),
    adjustAmps: moved(own.adjust_amps, like.adjustAmps),
    dropout: { ...moved(own.dropout, like.dropout), atAmps: own.dropout_at_amps ?? like.dropout.atAmps },
    rippleRejection_dB: {
      ...moved(own.rejection_dB, like.rippleRejection_dB),
      atVolts:
        own.rejection_at_volts ??
        (like.kind === 'fixed' ? moved(own.volts, like.volts).typical : like.rippleRejection_dB.atVolts),
    },
    ...(quiet !== undefined && {
      rippleRejectionWithCapacitor_dB: moved(own.rejection_with_capacitor_dB, quiet),
    }),
    minimumLoad: moved(own.minimum_load, like.minimumLoad),
    quiescentAmps: moved(own.quiescent_amps, like.quiescentAmps),
    ...writtenOnly({
      ratedAmps: own.rated_amps,
      junctionOperating: own.junction_operating,
      junctionAbsolute: own.junction_absolute,
      highestInput: own.highest_input,
      highestDifference: own.highest_difference,
    }),
  };
}

/** @throws {RangeError} when the two points of the curve need a negative resistance; loading refuses those. */
function ownDiode(name: string, own: OwnDiode, like: Diode): Diode {
  const { curve } = own;
  return {
    ...like,
    name,
    ...(curve !== undefined && { law: lawOf(curve) }),
    ...writtenOnly({
      repetitiveReverseVolts: own.reverse_volts,
      surgeAmps: own.surge_amps,
      ratedAmps: own.rated_amps,
    }),
  };
}

/** The law through two written points, whichever comes first. Throws as `lawThrough` does. */
export function lawOf(curve: NonNullable<OwnDiode['curve']>): Diode['law'] {
  const [low, high] = [...curve].sort(([, a], [, b]) => a - b).map(([volts, amps]) => ({ volts, amps }));
  if (low === undefined || high === undefined || low.amps === high.amps) {
    throw new RangeError('two points of a curve need two different currents');
  }
  return lawThrough(low, high);
}

function ownPackage(name: string, own: OwnPackage, like: Package): Package {
  return {
    name,
    outline: own.like,
    junctionCase: moved(own.junction_case, like.junctionCase),
    junctionAir: moved(own.junction_air, like.junctionAir),
    caseHeatCapacity: moved(own.case_heat_capacity, like.caseHeatCapacity),
  };
}
