import { describe, expect, it } from 'vitest';
import { LinkNotOpen } from '../../../drivers/links/link-not-open.js';
import {
  FIRST_RETRY_MS,
  LONGEST_RETRY_MS,
  reopeningLink,
  type Connection,
  type ConnectionListener,
} from '../../../drivers/links/reopening.js';
import { manualClock } from '../../manual-clock.js';
import { listenTo } from './heard.js';
import { settle } from './settle.js';

/** A connector whose tries end as the script says: a reason not to open, or a path. */
function scripted(...outcomes: (Error | string)[]) {
  const clock = manualClock();
  const triedAtMs: number[] = [];
  const listeners: ConnectionListener[] = [];
  const log: string[] = [];
  function note(what: string): Promise<void> {
    log.push(what);
    return settle();
  }
  async function connect(listener: ConnectionListener): Promise<Connection> {
    triedAtMs.push(clock.nowMs());
    const outcome = outcomes[triedAtMs.length - 1] ?? new Error('script is over');
    await settle();
    if (outcome instanceof Error) throw outcome;
    listeners.push(listener);
    return {
      path: outcome,
      write: (bytes) =>
        outcome === 'stuck' ? new Promise(() => undefined) : note(Buffer.from(bytes).toString()),
      close: () => note(`close ${outcome}`),
    };
  }
  const link = reopeningLink({ name: 'scripted', connect }, clock);
  async function pass(ms: number): Promise<void> {
    clock.advance(ms);
    await settle();
    await settle();
    await settle();
  }
  return { link, clock, triedAtMs, listeners, log, pass };
}

const missing = new Error('not there');

describe('reopeningLink', () => {
  it('tries quickly at first and at least once a second later', async () => {
    const { link, triedAtMs, pass } = scripted(...Array<Error>(12).fill(missing));
    listenTo(link);
    await pass(0);
    for (let step = 0; step < 600; step += 1) await pass(10);
    const waits = triedAtMs.slice(1).map((atMs, index) => atMs - (triedAtMs[index] ?? 0));
    expect(waits.slice(0, 5)).toEqual([100, 200, 400, 800, 1000]);
    expect([waits[0], Math.max(...waits)]).toEqual([FIRST_RETRY_MS, LONGEST_RETRY_MS]);
  });

  it('tells the same reason once, and another one anew', async () => {
    const busy = new Error('in use');
    const { link, pass } = scripted(missing, missing, busy, 'a', missing);
    const heard = listenTo(link);
    for (let step = 0; step < 20; step += 1) await pass(100);
    expect(heard.states).toEqual([
      { kind: 'waiting', why: 'not there' },
      { kind: 'waiting', why: 'in use' },
      { kind: 'open', path: 'a' },
    ]);
  });

  it('tells one loss of an error that comes with two closes, and opens a new connection', async () => {
    const { link, listeners, log, pass } = scripted('a', missing, 'b');
    const heard = listenTo(link);
    await pass(0);
    for (const why of ['EIO', 'closed', 'closed']) listeners[0]?.onLost(why);
    await pass(100);
    await pass(200);
    expect(heard.states).toEqual([
      { kind: 'open', path: 'a' },
      { kind: 'lost', why: 'EIO' },
      { kind: 'waiting', why: 'not there' },
      { kind: 'back', path: 'b' },
    ]);
    expect(log).toEqual(['close a']);
  });

  it('opens no new connection before the old one is released', async () => {
    const clock = manualClock();
    const listeners: ConnectionListener[] = [];
    let release: () => void = () => undefined;
    const connect = (listener: ConnectionListener): Promise<Connection> => {
      listeners.push(listener);
      const close = (): Promise<void> => new Promise((resolve) => void (release = resolve));
      return Promise.resolve({ path: 'a', write: settle, close });
    };
    listenTo(reopeningLink({ name: 'slow to close', connect }, clock));
    await settle();
    listeners[0]?.onLost('EIO');
    clock.advance(5000);
    await settle();
    expect(listeners).toHaveLength(1);
    release();
    await settle();
    expect(listeners).toHaveLength(2);
  });

  it('hears nothing of a connection that is gone', async () => {
    const { link, listeners, pass } = scripted('a', 'b');
    const heard = listenTo(link);
    await pass(0);
    listeners[0]?.onLost('EIO');
    await pass(100);
    listeners[0]?.onBytes(Buffer.from('stale'));
    listeners[0]?.onLost('stale');
    listeners[1]?.onBytes(Buffer.from('fresh'));
    expect(heard.text()).toBe('fresh');
    expect(heard.states.map((state) => state.kind)).toEqual(['open', 'lost', 'back']);
  });

  it('keeps no bytes for the next connection', async () => {
    const { link, listeners, log, pass } = scripted('a', 'b');
    listenTo(link);
    await expect(link.write(Buffer.from('too early'))).rejects.toBeInstanceOf(LinkNotOpen);
    await pass(0);
    listeners[0]?.onLost('EIO');
    await expect(link.write(Buffer.from('OUTP ON'))).rejects.toMatchObject({ code: 'link-not-open' });
    await pass(100);
    await link.write(Buffer.from('*IDN?'));
    expect(log).toEqual(['close a', '*IDN?']);
  });

  it('refuses bytes that a stuck device would make it keep', async () => {
    const { link, pass } = scripted('stuck');
    listenTo(link);
    await pass(0);
    void link.write(Buffer.alloc(60_000));
    await expect(link.write(Buffer.alloc(10_000))).rejects.toThrow(/takes no bytes \(60000 still unsent\)/);
  });

  it('releases a connection that opens after stop', async () => {
    const { link, log, pass } = scripted('a');
    const heard = listenTo(link);
    const stopped = link.stop();
    await pass(0);
    await stopped;
    expect(log).toEqual(['close a']);
    expect(heard.states).toEqual([{ kind: 'closed' }]);
  });

  it('tries no more after stop', async () => {
    const { link, triedAtMs, pass } = scripted(missing, 'a');
    const heard = listenTo(link);
    await pass(0);
    await link.stop();
    await pass(5000);
    expect(triedAtMs).toHaveLength(1);
    expect(heard.states.map((state) => state.kind)).toEqual(['waiting', 'closed']);
  });

  it('can be stopped before it was started', async () => {
    const { link } = scripted('a');
    await link.stop();
  });
});
