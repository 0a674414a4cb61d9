import type { Suspect } from '../../../../daemon/watch/suspects/judgement.js';

/** How well a judgement did. */
export interface Outcome {
  readonly isHealthy: boolean;
  /** Of the truth, 0 for the most probable; Infinity where it isn't among them. */
  readonly rank: number;
  /** The truth leads, or is named as one that can't be told from what leads. */
  readonly isNamed: boolean;
}

/** @param truth `heatsink-loose logic`; `healthy ` for none. */
export function outcomeOf(truth: string, suspects: readonly Suspect[], other: number): Outcome {
  const ranking = [
    ...suspects.map(({ fault, about, probability }) => ({ name: `${fault} ${about}`, probability })),
    { name: 'other', probability: other },
  ].sort((a, b) => b.probability - a.probability);
  const at = ranking.findIndex(({ name }) => name === truth);
  const alike = suspects[0]?.alike?.map(({ fault, about }) => `${fault} ${about}`) ?? [];
  const leads = at === 0;
  return {
    isHealthy: truth === 'healthy ',
    rank: at < 0 ? Infinity : at,
    isNamed: leads || (ranking[0]!.name !== 'other' && alike.includes(truth)),
  };
}

/** Whether what leads is the truth, where it is said to be about 80 % probable; else nothing. */
export function leadsByEighty(truth: string, [first]: readonly Suspect[]): boolean[] {
  if (first === undefined || first.probability < 0.7 || first.probability >= 0.9) return [];
  return [`${first.fault} ${first.about}` === truth];
}

/** Shares of sessions, 0 to 1. */
export interface Shares {
  readonly faultFirst: number;
  readonly faultFirstOrAlike: number;
  readonly faultInFirstThree: number;
  readonly healthyFirst: number;
}

export function shares(outcomes: readonly Outcome[]): Shares {
  const faulty = outcomes.filter(({ isHealthy }) => !isHealthy);
  const healthy = outcomes.filter(({ isHealthy }) => isHealthy);
  return {
    faultFirst: share(faulty, ({ rank }) => rank === 0),
    faultFirstOrAlike: share(faulty, ({ isNamed }) => isNamed),
    faultInFirstThree: share(faulty, ({ rank }) => rank < 3),
    healthyFirst: share(healthy, ({ rank }) => rank === 0),
  };
}

/** How many of these there are, 0 to 1. */
export function share<Each>(list: readonly Each[], holds: (each: Each) => boolean): number {
  return list.filter(holds).length / list.length;
}
