import type { Design, LoadState, Rail, RectifierKind } from '../../daemon/design/design.js';
import type { Cooling } from '../../daemon/design/design-cooling.js';

/** Cooling by a heatsink of its own given in K/W, or by none. */
export interface PlainCooling extends Omit<Cooling, 'heatsink'> {
  readonly heatsink: number | 'none';
}

/** A rail with a three-terminal regulator from the library and a load in amps. */
export interface PlainRail extends Omit<Rail, 'regulator' | 'series' | 'cooling' | 'load'> {
  readonly regulator: string;
  readonly series?: number | undefined;
  readonly cooling: PlainCooling;
  readonly load: Record<LoadState, number>;
}

/** The designs that the simulated bench can build: one reservoir, and three-terminal regulators from the library. */
export interface PlainDesign extends Omit<Design, 'rails' | 'rectifier'> {
  readonly rectifier: Omit<Design['rectifier'], 'kind'> & {
    readonly kind: Exclude<RectifierKind, 'split-bridge'>;
  };
  readonly rails: Record<string, PlainRail>;
}

/** A design has what the simulated bench doesn't know. The message names every such key. */
export class BeyondPlain extends RangeError {
  override readonly name = 'BeyondPlain';
}

/**
 * The same design where it is a plain one.
 * @throws {BeyondPlain} naming every key that makes it more than that.
 */
export function plainDesign(design: Design): PlainDesign {
  const keys = beyondPlain(design);
  if (keys.length === 0) return design as PlainDesign;
  throw new BeyondPlain(
    `${keys.join(', ')}: the simulated bench knows only one reservoir, three-terminal regulators from the ` +
      `library, loads in amps, and heatsinks in K/W; the design itself is in order`,
  );
}

/** Dotted keys of a design that a plain one doesn't have. */
export function beyondPlain(design: Design): string[] {
  const { rectifier, reservoir, filter, parts, rails } = design;
  return [
    ...(rectifier.kind === 'split-bridge' ? ['rectifier.kind'] : []),
    ...(rectifier.drop !== undefined ? ['rectifier.drop'] : []),
    ...(reservoir.load !== undefined ? ['reservoir.load'] : []),
    ...(filter !== undefined ? ['filter'] : []),
    ...(parts !== undefined ? ['parts'] : []),
    ...Object.entries(rails).flatMap(([name, rail]) =>
      beyondPlainRail(rail).map((key) => `rails.${name}.${key}`),
    ),
  ];
}

function beyondPlainRail({ regulator, series, cooling, load }: Rail): string[] {
  const heatsink = cooling?.heatsink;
  return [
    ...(typeof regulator === 'string' ? [] : ['regulator']),
    ...(typeof series === 'object' ? ['series'] : []),
    ...(typeof heatsink === 'number' || heatsink === 'none' ? [] : ['cooling.heatsink']),
    ...(Object.values(load).every((state) => typeof state === 'number') ? [] : ['load']),
  ];
}
