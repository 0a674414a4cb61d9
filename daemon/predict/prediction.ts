import type { LoadState } from '../design/design.js';

/** A unit as predictions state it; the same spellings as the instruments' units. */
export type PointUnit = 'V' | 'Vrms' | 'Vpp' | 'A' | 'Arms' | 'ohm' | 'degC' | 'Hz' | 'W';

/** What one test point should read. `low` to `high` covers 95 % of supplies built from this design. */
export interface PointPrediction {
  readonly id: string;
  /** What a person calls it: `logic regulator case`. */
  readonly label: string;
  readonly unit: PointUnit;
  /** Every part exactly as written. */
  readonly nominal: number;
  readonly low: number;
  readonly typical: number;
  readonly high: number;
  /**
   * For a temperature: the coldest it may be when power comes on. Between this and `low` it is warming up, which is
   * as predicted; `low` to `high` is where it settles.
   */
  readonly coldest?: number;
  /** The result with everything that matters to it at its worst end at once: rarer than the band, but possible. */
  readonly worst: { readonly low: number; readonly high: number };
  /** What the band's width comes from, largest first. */
  readonly widthFrom: readonly WidthShare[];
  /** Never widened by uncertainty. */
  readonly limits: readonly Limit[];
  /** The formula in one line with its source, for a person who wants to check. */
  readonly formula: string;
}

/** How much of a band's variance one uncertain value explains. */
export interface WidthShare {
  /** In words: `mains volts`. */
  readonly from: string;
  /** 0 to 1. */
  readonly share: number;
}

/** A value beyond which something is damaged or out of its rating. */
export interface Limit {
  readonly kind: 'damage' | 'rating';
  readonly side: 'high' | 'low';
  /** In the point's unit. */
  readonly value: number;
  /** What it protects, in words: `what the logic load survives`. */
  readonly why: string;
}

/** A default that was filled in because the design didn't say. */
export interface Assumption {
  /** The design key, `reservoir.esr`. */
  readonly key: string;
  readonly value: number | string;
  readonly because: string;
}

/** Figures of one part, unit in each key (`dissipation_W`, `junction_degC`). */
export type PartFigures = Readonly<Record<string, number>>;

/** Something the person should know or change before power, most destructive first. */
export interface Advice {
  /** Stable word: `heatsink-missing`, `dropout-at-low-mains` … */
  readonly finding: string;
  /** The part or rail it is about. */
  readonly about: string;
  /** `ready`: nothing is wrong; something to have at hand, or to expect. */
  readonly severity: 'destroys' | 'misbehaves' | 'note' | 'ready';
  readonly sentence: string;
  readonly numbers: PartFigures;
  /** The formula and its source. */
  readonly reason: string;
  /** What to do, in words: the cures, or what a design file can't say. */
  readonly cure: string;
  /** Ways out that the design can say, each predicted again before it is offered. */
  readonly cures: readonly Cure[];
}

/** A change to the design after which the finding is gone and nothing new is destroyed or misbehaves. */
export interface Cure {
  readonly words: string;
  readonly changes: readonly DesignChange[];
  /** What gets worse with it, though not wrong, in words. */
  readonly worsens: readonly string[];
}

/** One value to write into a design file. */
export interface DesignChange {
  /** `rails.lamps.cooling.heatsink` */
  readonly key: string;
  readonly value: number | string | Readonly<Record<string, number>>;
}

export interface Prediction {
  readonly points: Readonly<Record<string, PointPrediction>>;
  readonly parts: Readonly<Record<string, PartFigures>>;
  readonly advice: readonly Advice[];
  readonly assumed: readonly Assumption[];
  readonly load: LoadState;
  readonly seed: number;
}

export interface PredictOptions {
  readonly load: LoadState;
  /** Replaces the design's mains volts and its tolerance (the person measured it). */
  readonly mainsVolts?: number;
  /** Replaces the ambient, degrees C. */
  readonly ambient?: number;
  readonly seed?: number;
  /** How many supplies the bands are drawn from, a power of two; fewer are quicker and rougher. */
  readonly draws?: number;
}
