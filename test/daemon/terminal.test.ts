import { expect, it } from 'vitest';
import { alarmLines } from '../../daemon/terminal.js';
import type { WatchEvent } from '../../daemon/watch/events.js';
import { instrument, poweredCabin, reading, SUPPLIED } from './watch/cabin.js';

const RELAY = 'mains-relay';

/** What the terminal shows of these events. */
function shown(...events: readonly WatchEvent[]): string[] {
  const lines: string[] = [];
  const listener = alarmLines(SUPPLIED.prediction, (line) => void lines.push(line));
  const watched = poweredCabin(SUPPLIED);
  for (const event of events) {
    const before = watched.effects.length;
    watched.feed(event);
    listener(event, watched.state, watched.effects.slice(before));
  }
  return lines;
}

it('an alarm is one line with a bell, the first of its trouble marked, what it explains left out', () => {
  const lines = shown(reading(600, 'meter volts', 18));
  expect(lines.length).toBe(1);
  expect(lines[0]).toMatch(
    /^\u000700:00 {2}ALARM \(high, first\) Logic rail: 18\.00 V .*passes its input through/,
  );
});

it('a cut-off tells every step and why, with a bell when it drops', () => {
  const lines = shown(
    instrument(100, RELAY, 'open'),
    { kind: 'cut-off', atMs: 400, output: RELAY, order: 'arm', inSight: true },
    reading(600, 'meter volts', 18),
    { kind: 'output', atMs: 620, output: RELAY, position: 'off', failed: 'its link was lost' },
  );
  expect(lines[0]).toMatch(/cut-off mains-relay is armed/);
  expect(lines[2]).toMatch(/^\u0007.*was dropped by the alarm "logic volts, eighteen.*"/);
  expect(lines[3]).toMatch(/^\u0007.*mains-relay did not do as it was told: its link was lost/);
  expect(lines[4]).toMatch(/ALARM \(high, first\) The cut-off mains-relay did not take power away/);
});

it('what is put aside says until when, and comes back with all its words', () => {
  const lines = shown(
    reading(600, 'meter volts', 18),
    { kind: 'shelve', atMs: 700, alarm: 'passing-input:logic.volts', untilMs: 125_000 },
    { kind: 'shelve', atMs: 800, alarm: 'passing-input:logic.volts', untilMs: null },
  );
  expect(lines[1]).toMatch(/put aside until 02:05: passing-input:logic.volts/);
  expect(lines[2]).toMatch(/no longer put aside.*passes its input/);
});

it('a hook that came to nothing is told, one that went well isn’t', () => {
  const hook = { kind: 'hook', atMs: 700, hook: 'run siren', alarm: 'a' } as const;
  expect(shown({ ...hook, failed: null }, { ...hook, failed: 'it ended with code 3' })).toEqual([
    '00:00  hook run siren came to nothing: it ended with code 3',
  ]);
});
