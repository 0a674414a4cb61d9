import { describe, expect, it } from 'vitest';
import type { InstrumentEvent } from '../../../drivers/driver.js';
import { faultTeller } from '../../../drivers/fault-teller.js';
import { Conversation, type Outcome, type Script, type Wait } from '../../../drivers/scpi/conversation.js';
import { manualClock } from '../../manual-clock.js';
import type { Clock } from '../../../drivers/clock.js';
import { faultsOf } from '../events.js';

/** Runs a script that waits for each of `waits` in turn and notes when and how each ended. */
function converse(...waits: Wait[]) {
  const clock = manualClock();
  const events: InstrumentEvent[] = [];
  const conversation = new Conversation(
    clock,
    faultTeller(clock, (event) => void events.push(event)),
  );
  const ends: [atMs: number, outcome: Outcome | string | undefined][] = [];
  function* script(): Script {
    for (const wait of waits) {
      const outcome = yield wait;
      const isLine = typeof outcome === 'object' && outcome !== null;
      ends.push([clock.nowMs(), isLine ? (outcome.text ?? 'unreadable') : outcome]);
    }
  }
  conversation.run(script());
  const push = (text: string): void => conversation.push(Buffer.from(text), clock.nowMs());
  return { clock, conversation, ends, events, push };
}

describe('Conversation', () => {
  it('hands over a line when it comes, and nothing when the time is up', () => {
    const { clock, ends, push } = converse({ for: 'line', withinMs: 500 }, { for: 'line', withinMs: 500 });
    clock.advance(100);
    push('12.');
    push('06\n');
    clock.advance(1000);
    expect(ends).toEqual([
      [100, '12.06'],
      [600, null],
    ]);
  });

  it('keeps lines that come during a delay for whoever asks for them', () => {
    const { clock, conversation, ends, push } = converse({ for: 'delay', delayMs: 100 });
    push('one\ntwo\nthr');
    expect(conversation.midLine).toBe(true);
    expect(conversation.takeUnread().map(({ text }) => text)).toEqual(['one', 'two']);
    push('ee\n');
    expect(conversation.startAfresh().map(({ text }) => text)).toEqual(['three']);
    clock.advance(100);
    expect(ends).toEqual([[100, null]]);
  });

  it('becomes quiet when nothing has come for long enough, not earlier', () => {
    const { clock, ends, push } = converse({ for: 'quiet', quietMs: 100, withinMs: 1000 });
    for (let step = 0; step < 5; step += 1) {
      clock.advance(60);
      push('x');
    }
    clock.advance(1000);
    expect(ends).toEqual([[400, true]]);
  });

  it.each([
    { for: 'quiet', quietMs: 100, withinMs: 1000 },
    { for: 'line', withinMs: 1000, silenceMs: 100 },
  ] as const)('knows when silence for a $for is over, however its time is rounded', (wait) => {
    for (let tenths = 1; tenths < 2000; tenths += 7) {
      const clock = manualClock();
      clock.advance(tenths / 10);
      let timers = 0;
      const counted: Clock = {
        ...clock,
        after: (delayMs, action) => clock.after(timers++ < 20 ? delayMs : 1, action),
      };
      const conversation = new Conversation(
        counted,
        faultTeller(counted, () => undefined),
      );
      conversation.run(
        (function* (): Script {
          yield wait;
        })(),
      );
      clock.advance(0.013 * tenths);
      conversation.push(Buffer.from('x'), clock.nowMs());
      clock.advance(1000);
      expect(timers).toBeLessThan(20);
    }
  });

  it('gives up waiting for quiet', () => {
    const { clock, ends, push } = converse({ for: 'quiet', quietMs: 100, withinMs: 1000 });
    for (let step = 0; step < 40; step += 1) {
      push('x');
      clock.advance(50);
    }
    expect(ends).toEqual([[1000, false]]);
  });

  it('tells a line that cannot be read as such, in its place', () => {
    const lines = { for: 'line', withinMs: 500 } as const;
    const { ends, push } = converse(lines, lines, lines);
    push('one\nt\0wo\nthree\n');
    expect(ends.map(([, outcome]) => outcome)).toEqual(['one', 'unreadable', 'three']);
  });

  it('holds 64 lines that nobody reads and counts the rest', () => {
    const { clock, conversation, events, push } = converse({ for: 'delay', delayMs: 10_000 });
    push('more\n'.repeat(1000));
    clock.advance(2000);
    expect(conversation.takeUnread()).toHaveLength(64);
    expect(faultsOf(events)).toHaveLength(2);
    expect(events.at(-1)).toMatchObject({ code: 'late-answer', count: 936 });
  });

  it('is silent after its end', () => {
    const { clock, conversation, ends, push } = converse({ for: 'line', withinMs: 500 });
    conversation.end();
    push('late\n');
    clock.advance(1000);
    expect(ends).toEqual([]);
  });
});
