import type { Design, Rail } from './design.js';

const NODES: readonly string[] = ['reservoir', 'negative-reservoir', 'filter'];

type Rails = Pick<Design, 'rails'>;
export type Nodes = Pick<Design, 'rectifier' | 'filter'>;
export type Polarity = 'positive' | 'negative';

/** The places beside other rails that a rail of this design may be fed from. */
export function nodesOf({ rectifier, filter }: Nodes): string[] {
  return [
    'reservoir',
    ...(rectifier.kind === 'split-bridge' ? ['negative-reservoir'] : []),
    ...(filter === undefined ? [] : ['filter']),
  ];
}

/** Where a rail's current comes from in the end, other rails passed over; null for rails that feed each other. */
export function originOf(rail: Rail, { rails }: Rails): string | null {
  let from = rail.from;
  for (let passed = 0; passed <= Object.keys(rails).length; passed += 1) {
    const feeding = NODES.includes(from) || !Object.hasOwn(rails, from) ? undefined : rails[from];
    if (feeding === undefined) return from;
    from = feeding.from;
  }
  return null;
}

/** A rail has the polarity of what feeds it. */
export function polarityOf(rail: Rail, design: Rails): Polarity {
  return originOf(rail, design) === 'negative-reservoir' ? 'negative' : 'positive';
}
