import { expect, it } from 'vitest';
import type { SuspectsEvent, WatchEvent } from '../../../daemon/watch/events.js';
import { Watched } from './cabin.js';

function suspects(atMs: number, ...found: readonly (readonly [string, number])[]): SuspectsEvent {
  return {
    kind: 'suspects',
    atMs,
    from: ['reservoir.volts'],
    suspects: found.map(([fault, probability]) => ({
      fault,
      about: 'logic',
      title: fault,
      probability,
      evidence: [],
      action: { switchOff: true, words: 'Switch off.' },
    })),
    other: 0.05,
    next: null,
    odd: [],
    parameters: [],
  };
}
const expectLoad = (atMs: number, load: 'typical' | 'full'): WatchEvent => ({
  kind: 'expect',
  atMs,
  load,
  step: null,
  measured: [],
  bands: {},
});
const leaders = ({ effects }: Watched): (string | null)[] =>
  effects.flatMap((effect) => (effect.kind === 'suspect' ? [effect.leading?.fault ?? null] : []));

it('is told when another fault leads, not each time it is weighed', () => {
  const watched = new Watched().feed(
    suspects(1, ['healthy', 0.8]),
    suspects(2, ['healthy', 0.9]),
    suspects(3, ['overload', 0.45], ['heatsink-loose', 0.4]),
    suspects(4, ['overload', 0.7]),
  );
  expect(leaders(watched)).toEqual(['healthy', null, 'overload']);
  expect(watched.state.suspicion?.atMs).toBe(4);
});

it('nothing is suspected any more once the load is another, but sharper bands change nothing', () => {
  const watched = new Watched().feed(suspects(1, ['overload', 0.8]), expectLoad(2, 'typical'));
  expect(watched.state.suspicion).not.toBeNull();
  watched.feed(expectLoad(3, 'full'));
  expect(watched.state.suspicion).toBeNull();
});
