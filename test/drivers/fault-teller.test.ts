import { describe, expect, it } from 'vitest';
import type { InstrumentEvent } from '../../drivers/driver.js';
import { faultTeller } from '../../drivers/fault-teller.js';
import { manualClock } from '../manual-clock.js';

function tellerWithNotes() {
  const clock = manualClock();
  const told: [atMs: number, code: string, count: number][] = [];
  const details: string[] = [];
  const faults = faultTeller(clock, (event: InstrumentEvent) => {
    if (event.kind !== 'fault') return;
    told.push([event.atMs, event.code, event.count]);
    details.push(event.detail);
  });
  return { clock, faults, told, details };
}

describe('faultTeller', () => {
  it('tells the first of a kind at once and a flood once a second, with the last count in the end', () => {
    const { clock, faults, told } = tellerWithNotes();
    for (let step = 0; step < 250; step += 1) {
      faults.count('not-understood', 'x');
      clock.advance(10);
    }
    clock.advance(5000);
    expect(told).toEqual([
      [0, 'not-understood', 1],
      [1000, 'not-understood', 100],
      [2000, 'not-understood', 200],
      [3000, 'not-understood', 250],
    ]);
  });

  it('tells faults that come slowly each at once', () => {
    const { clock, faults, told } = tellerWithNotes();
    faults.count('no-answer', 'x');
    clock.advance(1000);
    faults.count('no-answer', 'x');
    expect(told.map(([atMs]) => atMs)).toEqual([0, 1000]);
  });

  it('counts each code by itself', () => {
    const { faults, told } = tellerWithNotes();
    faults.count('no-answer', 'x');
    faults.count('not-text', 'x');
    expect(told).toEqual([
      [0, 'no-answer', 1],
      [0, 'not-text', 1],
    ]);
  });

  it('tells at once when every text matters', () => {
    const { faults, details } = tellerWithNotes();
    faults.tell('instrument-error', '-113,"Undefined header"');
    faults.tell('instrument-error', '-350,"Queue overflow"');
    expect(details).toEqual(['-113,"Undefined header"', '-350,"Queue overflow"']);
  });

  it('quotes what came, printable and at most 200 characters in all', () => {
    const { faults, details } = tellerWithNotes();
    faults.count('not-understood', 'a line', 'a\x1bb');
    faults.count('not-text', 'w'.repeat(150), 'q'.repeat(5000));
    expect(details[0]).toBe('a line: "a\\x1bb"');
    expect(details[1]).toHaveLength(200);
  });

  it('tells nothing after stop', () => {
    const { clock, faults, told } = tellerWithNotes();
    faults.count('no-answer', 'x');
    faults.count('no-answer', 'x');
    faults.stop();
    faults.count('not-text', 'x');
    faults.tell('not-text', 'x');
    clock.advance(5000);
    expect(told).toEqual([[0, 'no-answer', 1]]);
  });
});
