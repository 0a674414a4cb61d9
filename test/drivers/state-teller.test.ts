import { describe, expect, it } from 'vitest';
import type { InstrumentEvent } from '../../drivers/driver.js';
import { stateTeller } from '../../drivers/state-teller.js';
import { manualClock } from '../manual-clock.js';

function tellerWithNotes() {
  const clock = manualClock();
  const events: InstrumentEvent[] = [];
  return { clock, events, states: stateTeller(clock, (event) => void events.push(event)) };
}

describe('stateTeller', () => {
  it('puts the states of a link into those of an instrument', () => {
    const { clock, events, states } = tellerWithNotes();
    states.link({ kind: 'waiting', why: 'not there' });
    states.link({ kind: 'open', path: '/dev/ttyUSB0' });
    clock.advance(7);
    states.link({ kind: 'lost', why: 'pulled\x00 out' });
    states.link({ kind: 'back', path: '/dev/ttyUSB1' });
    states.link({ kind: 'closed' });
    expect(events).toEqual([
      { kind: 'state', atMs: 0, state: 'waiting', why: 'not there' },
      { kind: 'state', atMs: 0, state: 'open', why: 'connected at /dev/ttyUSB0', path: '/dev/ttyUSB0' },
      { kind: 'state', atMs: 7, state: 'lost', why: 'pulled\\x00 out' },
      { kind: 'state', atMs: 7, state: 'open', why: 'connected again at /dev/ttyUSB1', path: '/dev/ttyUSB1' },
      { kind: 'state', atMs: 7, state: 'closed', why: 'stopped' },
    ]);
  });

  it('says once that readings come in, and once that they stopped', () => {
    const { events, states } = tellerWithNotes();
    states.link({ kind: 'open', path: 'a' });
    states.notReading('nothing yet');
    states.reading();
    states.reading();
    states.notReading('no answer');
    states.notReading('no answer');
    states.reading();
    expect(events.map((event) => event.kind === 'state' && event.state)).toEqual([
      'open',
      'reading',
      'open',
      'reading',
    ]);
  });
});
