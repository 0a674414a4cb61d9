import type { Advice, DesignChange } from '../prediction.js';

/** A change to the design that may cure a problem. */
export interface Candidate {
  /** What to do: `fit a heatsink of at most 6.8 K/W`. */
  readonly words: string;
  readonly changes: readonly DesignChange[];
}

/** A finding with ways out that nobody has tried yet. */
export interface Problem extends Omit<Advice, 'cure' | 'cures'> {
  /** Each way is a row of candidates of which the first that works is offered. */
  readonly ways: readonly (readonly Candidate[])[];
  /** What can be done when no way works. */
  readonly otherwise: string;
  /** What goes with the cure, whichever it is: a caution, or a way that a design file can't say. */
  readonly besides?: string;
}
