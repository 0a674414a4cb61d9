import { expect, it } from 'vitest';
import { rehearseDrop } from '../../../daemon/watch/rehearse.js';
import { deepFreeze, instrument, poweredCabin, reading, SUPPLIED } from './cabin.js';

it('a rehearsal leaves everything as it was, and the real thing comes out the same', () => {
  const order = { kind: 'cut-off', atMs: 400, output: 'mains-relay', order: 'arm', inSight: true } as const;
  const armed = () => poweredCabin(SUPPLIED).feed(instrument(100, 'mains-relay', 'open'), order);
  const [rehearsed, plain] = [armed(), armed()];
  deepFreeze(rehearsed.state);
  rehearseDrop(rehearsed.state);
  expect(rehearsed.state).toEqual(plain.state);
  rehearsed.feed(reading(600, 'meter volts', 18));
  plain.feed(reading(600, 'meter volts', 18));
  expect(rehearsed.effects).toEqual(plain.effects);
  expect(rehearsed.state.cutOffs[0]?.state).toBe('dropped');
});
