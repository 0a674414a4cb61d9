import { describe, expect, it } from 'vitest';
import { MOST_COLUMNS } from '../../../daemon/serve/capture-view.js';
import { MOST_MARKS } from '../../../daemon/serve/marks.js';
import type { CaptureEvent } from '../../../daemon/watch/events.js';
import { cabin, volts, type Cabin } from './cabin.js';
import { fakePage } from './fake-page.js';

function joined({ hub }: Cabin) {
  const page = fakePage();
  hub.connect(page, true);
  return page;
}

/** 100 ms of 100 Hz triangle on 5 V, 20 mV peak to peak, 16 bits of 1 mV, with one sample 3 V higher. */
function ripple(atMs: number, point: string | null = 'logic.volts'): CaptureEvent {
  const counts = Int16Array.from({ length: 10_000 }, (_, i) => {
    const phase = (i / 1000) % 1;
    return 5000 + Math.round(40 * Math.abs(phase - 0.5) - 10) + (i === 4321 ? 3000 : 0);
  });
  return {
    kind: 'capture',
    atMs,
    instrument: 'meter',
    channel: 'volts',
    point,
    unit: 'V',
    counts: 'i16',
    samples: Buffer.from(counts.buffer).toString('base64'),
    scale: 0.001,
    offset: 0,
    startSeconds: 0,
    stepSeconds: 1e-5,
    coupling: 'dc',
  };
}

describe('a capture', () => {
  it('comes to every page once, bounded, with its single peak and what was found in it', () => {
    const session = cabin();
    const page = joined(session);
    session.tell(ripple(500));
    session.tell(volts(1000, 5));
    const told = page.changes().flatMap(({ captures }) => captures ?? []);
    expect(told).toHaveLength(1);
    const [capture] = told;
    expect(capture?.lows).toHaveLength(MOST_COLUMNS);
    expect(Math.max(...(capture?.highs ?? []))).toBeCloseTo(8, 1);
    expect(capture).toMatchObject({ point: 'logic.volts', samples: 10_000, measuredBy: 'meter volts' });
    expect(capture?.lengthSeconds).toBeCloseTo(0.1, 9);
    expect(capture?.ripple).not.toBeNull();
  });

  it('is there for a page that comes later, the newest of its point only', () => {
    const session = cabin();
    session.tell(ripple(500));
    session.tell(ripple(900));
    expect(
      joined(session)
        .snapshots()[0]
        ?.captures.map(({ atMs }) => atMs),
    ).toEqual([900]);
  });

  it('of a probe that sits nowhere, or without a sample, is none', () => {
    const session = cabin();
    session.tell(ripple(500, null));
    session.tell({ ...ripple(600), samples: '' });
    expect(joined(session).snapshots()[0]?.captures).toEqual([]);
  });
});

describe('a mark', () => {
  it('stands for an alarm, a moved probe and a note, not for where a probe began', () => {
    const session = cabin();
    const page = joined(session);
    session.tell(volts(500, 5.9));
    session.tell({ kind: 'probe', atMs: 700, instrument: 'meter', channel: 'volts', point: null });
    session.tell({ kind: 'note', atMs: 800, text: 'tightened the clip' });
    const marks = page.changes().flatMap((changes) => changes.marks ?? []);
    expect(marks.map(({ kind, point }) => `${kind} ${point}`)).toEqual([
      'alarm logic.volts',
      'probe null',
      'note null',
    ]);
    expect(marks[1]?.words).toBe('meter volts moved to nowhere');
    expect(joined(session).snapshots()[0]?.marks).toEqual(marks);
  });

  it('stands for another load and another step, each once', () => {
    const session = cabin();
    const expecting = { kind: 'expect', load: 'full', step: 'soak', measured: [], bands: {} } as const;
    session.tell({ ...expecting, atMs: 500 });
    session.tell({ ...expecting, atMs: 600 });
    expect(
      joined(session)
        .snapshots()[0]
        ?.marks.map(({ words }) => words),
    ).toEqual(['full load', 'soak']);
  });

  it('is forgotten when there are too many newer ones', () => {
    const session = cabin();
    for (let i = 0; i < MOST_MARKS + 5; i += 1) session.tell({ kind: 'note', atMs: i, text: `note ${i}` });
    const marks = joined(session).snapshots()[0]?.marks ?? [];
    expect(marks).toHaveLength(MOST_MARKS);
    expect(marks[0]?.words).toBe('note 5');
  });
});

it('a settled value is told when it settles, with how well it is known', () => {
  const session = cabin();
  const page = joined(session);
  for (let i = 1; i <= 8; i += 1) session.tell(volts(i * 500, 5.02));
  const settled = page.changes().flatMap((changes) => changes.settled ?? []);
  expect(settled).toHaveLength(1);
  expect(settled[0]).toMatchObject({ point: 'logic.volts', value: 5.02 });
});

it('a slow page misses no mark and no capture', () => {
  const session = cabin();
  const page = joined(session);
  page.stuck = true;
  page.bufferedAmount = 300 * 1024;
  session.tell({ kind: 'note', atMs: 100, text: 'one' });
  session.tell(ripple(200));
  session.tell({ kind: 'note', atMs: 300, text: 'two' });
  page.drain();
  session.tell(volts(500, 5));
  const last = page.changes().at(-1);
  expect(last?.marks?.map(({ words }) => words)).toEqual(['one', 'two']);
  expect(last?.captures).toHaveLength(1);
});
