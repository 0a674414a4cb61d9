import { beforeEach, describe, expect, it } from 'vitest';
import type { DaemonMessage } from '../../daemon/serve/messages.js';
import { backOffMs, LiveLink, type LiveEnvironment, type SocketHandlers } from '../../web/live.js';
import { calm, HOT_CASE } from './signal-cabin.js';

const FRAME_MS = 16;

/** A world with a hand-wound clock and sockets that do what the test says. */
class Bench implements LiveEnvironment {
  nowMs = 0;
  hidden = false;
  readonly sockets: { handlers: SocketHandlers; sent: string[]; closed: boolean }[] = [];
  #timers: { atMs: number; run: () => void }[] = [];

  openSocket(handlers: SocketHandlers) {
    const socket = { handlers, sent: [] as string[], closed: false };
    this.sockets.push(socket);
    return { send: (text: string) => void socket.sent.push(text), close: () => void (socket.closed = true) };
  }

  now(): number {
    return this.nowMs;
  }

  after(ms: number, run: () => void): () => void {
    const timer = { atMs: this.nowMs + ms, run };
    this.#timers.push(timer);
    return () => (this.#timers = this.#timers.filter((one) => one !== timer));
  }

  beforeFrame(run: () => void): () => void {
    return this.hidden ? () => undefined : this.after(FRAME_MS, run);
  }

  advance(ms: number): void {
    const endMs = this.nowMs + ms;
    for (;;) {
      const next = this.#timers.filter((one) => one.atMs <= endMs).sort((a, b) => a.atMs - b.atMs)[0];
      if (!next) break;
      this.#timers = this.#timers.filter((one) => one !== next);
      this.nowMs = next.atMs;
      next.run();
    }
    this.nowMs = endMs;
  }

  get last() {
    return this.sockets.at(-1)!;
  }

  say(message: DaemonMessage): void {
    this.last.handlers.text(JSON.stringify(message));
  }
}

let bench: Bench;
let link: LiveLink;
let told: number;

beforeEach(() => {
  bench = new Bench();
  told = 0;
  link = new LiveLink(bench, () => (told += 1));
  link.start();
  bench.say(calm());
});

const beat = (seq: number, more: object = {}): DaemonMessage => ({
  kind: 'changes',
  seq,
  nowMs: 755_000,
  readings: [],
  leftOut: 0,
  ...more,
});

describe('reconnecting', () => {
  it('waits 0.2 s at first and 3 s at most', () => {
    expect([0, 1, 2, 3, 4, 5, 50].map(backOffMs)).toEqual([200, 400, 800, 1600, 3000, 3000, 3000]);
  });

  it('tries again after a close, each time later, and from the start after a snapshot', () => {
    bench.last.handlers.closed('');
    bench.advance(200);
    expect(bench.sockets).toHaveLength(2);
    bench.last.handlers.closed('');
    bench.advance(399);
    expect(bench.sockets).toHaveLength(2);
    bench.advance(1);
    bench.say(calm());
    expect(link.state.link.kind).toBe('live');
    bench.last.handlers.closed('');
    bench.advance(200);
    expect(bench.sockets).toHaveLength(4);
  });

  it('ignores what an abandoned socket still says', () => {
    const old = bench.last;
    old.handlers.closed('');
    bench.advance(200);
    old.handlers.text(JSON.stringify(calm()));
    old.handlers.closed('');
    expect(link.state.link.kind).toBe('connecting');
    expect(bench.sockets).toHaveLength(2);
  });

  it('gives up a connection on which no snapshot comes', () => {
    bench.last.handlers.closed('');
    bench.advance(200);
    bench.advance(6000);
    expect(bench.sockets[1]?.closed).toBe(true);
    expect(bench.sockets.length).toBeGreaterThan(2);
  });
});

describe('silence', () => {
  it('is first asked about, then taken as lost', () => {
    bench.advance(3000);
    expect(bench.last.sent).toEqual(['{"kind":"snapshot"}']);
    expect(link.state.link.kind).toBe('live');
    bench.advance(2500);
    expect(bench.sockets[0]?.closed).toBe(true);
    expect(link.state.link.kind).not.toBe('live');
  });

  it('is broken by any message, so that a quiet bench stays live', () => {
    for (let seq = 2; seq < 22; seq += 1) {
      bench.advance(1000);
      bench.say(beat(seq));
    }
    expect(link.state.link.kind).toBe('live');
    expect(bench.last.sent).toEqual([]);
  });

  it('keeps the time since the last word running', () => {
    bench.last.handlers.closed('');
    const before = told;
    bench.advance(2000);
    expect(told).toBeGreaterThan(before + 2);
  });
});

describe('gaps', () => {
  it('are asked about once, and again when nothing comes', () => {
    bench.say(beat(5));
    bench.say(beat(6));
    expect(bench.last.sent).toEqual(['{"kind":"snapshot"}']);
    for (let seq = 7; seq < 10; seq += 1) {
      bench.advance(1000);
      bench.say(beat(seq));
    }
    expect(bench.last.sent).toHaveLength(2);
  });

  it('are suspected behind a message that cannot be read', () => {
    for (const junk of ['{', '[]', 'null', '{"kind":"changes"}', '{"kind":"else","seq":2}'])
      bench.last.handlers.text(junk);
    bench.last.handlers.text(new ArrayBuffer(4));
    expect(bench.last.sent).toEqual(['{"kind":"snapshot"}']);
  });
});

describe('commands', () => {
  it('go out while live and never later by surprise', () => {
    expect(link.send({ kind: 'acknowledge', alarm: HOT_CASE.id })).toBe(true);
    bench.last.handlers.closed('');
    expect(link.send({ kind: 'note', text: 'late' })).toBe(false);
    bench.advance(200);
    bench.say(calm());
    expect(bench.last.sent).toEqual([]);
  });
});

describe('telling the page', () => {
  it('is done once a frame for readings and at once for alarms', () => {
    const before = told;
    for (let seq = 2; seq < 12; seq += 1) bench.say(beat(seq));
    expect(told).toBe(before);
    bench.advance(FRAME_MS);
    expect(told).toBe(before + 1);
    bench.say(beat(12, { alarms: [HOT_CASE] }));
    expect(told).toBe(before + 2);
    bench.advance(1000);
    expect(told).toBe(before + 2);
  });

  it('goes on more slowly while the page is hidden and has no frames', () => {
    bench.hidden = true;
    const before = told;
    bench.say(beat(2));
    bench.say(beat(3));
    bench.advance(FRAME_MS);
    expect(told).toBe(before);
    bench.advance(150);
    expect(told).toBe(before + 1);
  });

  it('stops with the link', () => {
    link.stop();
    const before = told;
    bench.advance(20_000);
    expect(told).toBe(before);
    expect(bench.sockets).toHaveLength(1);
    expect(bench.last.closed).toBe(true);
  });
});

describe('tracks', () => {
  it('hold the history and go on with the readings', () => {
    bench.say(beat(2, { readings: [['logic.case', 755_000, 54.1]] }));
    expect(link.tracks.of('logic.case').atMs[740]).toBe(755_000);
    expect(link.tracks.of('logic.case').atMs).toHaveLength(741);
  });
});
