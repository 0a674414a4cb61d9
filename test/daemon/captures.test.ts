import { describe, expect, it } from 'vitest';
import { captureEvent } from '../../daemon/capture-event.js';
import { sampleValues } from '../../daemon/record/capture/samples.js';
import { readRecording } from '../../daemon/record/reader.js';
import { beginWatch } from '../../daemon/watch/watch.js';
import { startSimulatedBench } from '../../drivers/simulated/simulated-bench.js';
import { CABIN } from '../drivers/simulated/cabin.js';
import { scopeBench } from '../drivers/simulated/scope-bench.js';
import { cabinSession } from './cabin-session.js';
import { PLAN } from './serve/cabin.js';

const BENCH = `
bench: Cabin table with a scope
instruments:
  scope:
    driver: scpi-scope
    link: { tcp: 'localhost:5025' }
    options:
      dialect: ten-field
      inputs: { reservoir.volts: { input: 1, attenuation: 10 }, lamps.volts: 2 }
      interval_ms: 500
`;

describe('the captures of a scope', () => {
  it('are recorded with their test point and keep their channel alive', async () => {
    const { session, events, pass } = await cabinSession(BENCH, (clock) => {
      const bench = startSimulatedBench({ design: CABIN, bench: scopeBench('ten-field'), clock });
      return { linkFor: ({ name }) => bench.linkFor(name) };
    });
    session.start();
    await pass(8000);
    const captures = events.filter((event) => event.kind === 'capture');
    expect(captures.length).toBeGreaterThan(6);
    const reservoir = captures.find(({ channel }) => channel === 'reservoir.volts');
    expect(reservoir).toMatchObject({ point: 'reservoir.volts', unit: 'V', counts: 'u8', coupling: 'dc' });
    // 15 V AC behind a bridge under load: between the peak of 15 x 1.12 x 1.41 V and a deep valley (common practice).
    for (const volts of sampleValues(reservoir as Extract<typeof reservoir, object>)) {
      expect(volts).toBeGreaterThan(14);
      expect(volts).toBeLessThan(24);
    }
    expect(session.state.alarms.map(({ id }) => id)).toEqual([]);
    expect(session.state.channels.map(({ stale }) => stale)).toEqual([false, false]);
    await session.close();
    const recorded = [];
    for await (const entry of readRecording(session.file ?? ''))
      if (entry.kind === 'event' && entry.event.kind === 'capture') recorded.push(entry.event);
    expect(recorded).toEqual(captures);
  });
});

describe('a capture', () => {
  const capture = {
    atMs: 5,
    channel: 'volts',
    unit: 'V',
    samples: Int16Array.of(-2, 258),
    scale: 0.01,
    offset: 1,
    startSeconds: -0.1,
    stepSeconds: 0.2,
    coupling: 'ac',
    attenuation: 10,
    acquisition: 3,
  } as const;

  it.each([0, 1_200_000])('of %i samples is a counted fault', (length) => {
    const event = captureEvent('meter', { ...capture, samples: new Int16Array(length) }, beginWatch(PLAN));
    expect(event).toMatchObject({ kind: 'fault', code: 'not-recorded', count: 1, instrument: 'meter' });
    expect('detail' in event && event.detail).toMatch(new RegExp(`volts: samples: found ${length};`));
  });

  // -2 and 258 as 16-bit two's complement, low byte first: FE FF 02 01, in base64 (RFC 4648) "/v8CAQ==".
  it('becomes an event with its samples in little-endian base64', () => {
    expect(captureEvent('meter', capture, beginWatch(PLAN))).toEqual({
      kind: 'capture',
      atMs: 5,
      instrument: 'meter',
      channel: 'volts',
      point: null,
      unit: 'V',
      counts: 'i16',
      samples: '/v8CAQ==',
      scale: 0.01,
      offset: 1,
      startSeconds: -0.1,
      stepSeconds: 0.2,
      coupling: 'ac',
    });
  });
});
