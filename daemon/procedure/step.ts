import type { LoadState } from '../design/design.js';
import type { PointUnit } from '../predict/prediction.js';

/** The whole walk of a first power-up, made from a design: what to do, in which order, and what to expect. */
export interface Procedure {
  readonly steps: readonly Step[];
  /** What to do when the walk is broken off, in order. */
  readonly afterAbort: readonly string[];
}

export type StepKind =
  | 'cold-checks'
  | 'lamp-limiter'
  | 'transformer'
  | 'cut-off'
  | 'raw'
  | 'rails'
  | 'dummy-load'
  | 'soak'
  | 'real-load'
  | 'lid'
  | 'sign-off';

/** How the supply is fed during a step. */
export type Feeding = 'unplugged' | 'behind-lamp' | 'mains';

/**
 * What opens the way to the next step. `answered`: every check is answered and inside. `measured`: besides, every test
 * point that is asked for was read while it stood still, inside its band. `soaked`: besides, no temperature moves any
 * more. `signed`: a person's name.
 */
export type Gate = 'answered' | 'measured' | 'soaked' | 'signed';

/** One step of the power-up. Its words are for a person. */
export interface Step {
  /** Stable: `soak`, `real-load-logic`. */
  readonly id: string;
  readonly kind: StepKind;
  readonly title: string;
  readonly feeding: Feeding;
  /** What the rails draw, for whoever tells load states apart. */
  readonly load: LoadState;
  readonly gate: Gate;
  /** It begins with the plug out: what is read before the supply was off belongs to the step before. */
  readonly fromDead: boolean;
  /** In order, each with the caution for the hand that does it. */
  readonly actions: readonly Action[];
  /** What must not be connected yet. */
  readonly notYet: readonly string[];
  readonly checks: readonly Check[];
  readonly points: readonly StepPoint[];
  /** What every test point should read in this state, by its id, in its unit; empty while nothing is powered. */
  readonly bands: Readonly<Record<string, Band>>;
  /** Where to look when something is outside. */
  readonly whenWrong: readonly string[];
}

export interface Action {
  readonly words: string;
  readonly caution: string | null;
}

/** A test point that must be seen to read what it should. */
export interface StepPoint {
  readonly point: string;
  readonly label: string;
  readonly unit: PointUnit;
}

/** 95 % of supplies built like this read between low and high in this state. */
export interface Band {
  readonly low: number;
  readonly typical: number;
  readonly high: number;
  /** Of a temperature: before it has warmed up. */
  readonly coldest?: number;
}

/** What a person finds and types: a number with a unit, or yes and no. */
export interface Check {
  /** Unique in its step: `earth`, `short-logic`. */
  readonly id: string;
  readonly ask: string;
  readonly caution: string | null;
  /** Null for a question that yes answers. */
  readonly number: CheckNumber | null;
  /** What it means when there is nothing to check, `no metal can be touched (class II)`; null: it must be answered. */
  readonly waiver: string | null;
  /** Going on against it can kill: no reason overrides it. */
  readonly vital: boolean;
  /** Where the expected value comes from. */
  readonly reason: string;
  readonly whenWrong: string;
}

export interface CheckNumber {
  readonly unit: 'ohm' | 'A' | 'V' | 'Vrms' | 'W';
  /** Inside are low and high themselves; null: no end on that side. */
  readonly low: number | null;
  readonly high: number | null;
}
