import type { Design, Rail } from './design.js';
import type { OtherRegulator } from './design-rail.js';
import { shown } from './file-problems.js';
import { adjustedVolts, type Regulator } from './parts/regulators.js';
import { partsOf } from './own-parts.js';

/** Base to emitter of the follower behind a zener diode at some load, V (common practice). */
const FOLLOWER_DROP = 0.65;

/** What a rail is set to and what it needs above that; magnitudes. */
export interface RailNeed {
  readonly volts: number;
  /** Least input minus output of the best sample, and what to design for, V. */
  readonly dropout: { readonly low: number; readonly high: number };
  /** The key under the rail that sets it, and what is written there. */
  readonly key: readonly string[];
  readonly found: string;
}

/** What a part gives with the resistors as written, V. */
export function partVolts(rail: Pick<Rail, 'r1' | 'r2'>, regulator: Regulator): number {
  const { volts, adjustAmps } = regulator;
  if (regulator.kind === 'fixed') return volts.typical;
  return adjustedVolts(volts.typical, rail.r1 ?? NaN, rail.r2 ?? NaN, adjustAmps.typical);
}

/** Null for a part that isn't known. */
export function railNeed(rail: Rail, design: Pick<Design, 'parts'>): RailNeed | null {
  if (typeof rail.regulator === 'object') return otherNeed(rail.regulator);
  const part = partsOf(design).regulators.get(rail.regulator);
  if (part === undefined) return null;
  const adjustable = part.kind === 'adjustable';
  return {
    volts: partVolts(rail, part),
    dropout: part.dropout,
    key: [adjustable ? 'r2' : 'regulator'],
    found: adjustable ? String(rail.r2) : shown(part.name),
  };
}

function otherNeed(regulator: OtherRegulator): RailNeed {
  const need = (key: string, written: number, volts: number, low: number, high: number) => ({
    volts,
    dropout: { low, high },
    key: ['regulator', key],
    found: String(written),
  });
  switch (regulator.kind) {
    case 'zener': {
      const { zener_volts } = regulator;
      return need('zener_volts', zener_volts, zener_volts - FOLLOWER_DROP, FOLLOWER_DROP, 2);
    }
    case 'switching': {
      const above = Math.max(0, regulator.minimum_input - regulator.volts);
      return need('volts', regulator.volts, regulator.volts, above, above);
    }
    case 'given':
      return need('volts', regulator.volts, regulator.volts, regulator.dropout, regulator.dropout);
  }
}
