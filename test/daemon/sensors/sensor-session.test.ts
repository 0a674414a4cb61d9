import { describe, expect, it } from 'vitest';
import type { ReadingEvent } from '../../../daemon/watch/events.js';
import { memoryLinkPair, type MemoryFarEnd } from '../../../drivers/links/memory.js';
import { cabinSession } from '../cabin-session.js';

const BENCH = `
bench: Cabin table with bare sensors
instruments:
  board:
    driver: text-lines
    link: { serial: /dev/ttyUSB0 }
    options: { pattern: 'TC {k} mV, CJ {terminals} C, PT {pt} ohm, NTC {bead} ohm, DIV {raw} V', interval_ms: 1000 }
    channels:
      k: { measures: dc-volts, at: logic.case, sensor: { thermocouple: K, cold_junction: terminals } }
      terminals: { measures: temperature }
      pt: { measures: ohms, at: lamps.case, sensor: { pt100: 2-wire, lead_ohms: 0.4 } }
      bead: { measures: ohms, at: ambient.air, sensor: { ntc: { beta: 3977, r25: 10000 } } }
      raw: { measures: dc-volts, at: reservoir.volts, sensor: { divider: 11 } }
`;

async function board() {
  let far: MemoryFarEnd | undefined;
  const cabin = await cabinSession(BENCH, () => ({
    linkFor: () => {
      const pair = memoryLinkPair('/dev/ttyUSB0');
      ({ far } = pair);
      return pair.link;
    },
  }));
  cabin.session.start();
  const say = (line: string): void => far?.send(Buffer.from(`${line}\r\n`));
  say('half a line');
  const newest = (channel: string): ReadingEvent | undefined =>
    cabin.events.filter((event) => event.kind === 'reading').findLast((one) => one.channel === channel);
  return { ...cabin, say, newest };
}

describe('bare sensors on a board that prints what it sees', () => {
  it('are read as what is at the test point', async () => {
    const { clock, say, newest, session } = await board();
    clock.advance(1000);
    // 100 degrees C with the wires' ends at 25: 4.096 - 1.000 mV (type K, IEC 60584-1, printed tables).
    // 138.51 ohm at 100 degrees C (IEC 60751) and 0.4 ohm of leads. An NTC of beta 3977 K, 10 kohm: about 1.07 kohm at
    // 85 degrees C (a common bead's table, from memory). 100 k over 10 k divides by 11.
    say('TC 3.096 mV, CJ 25.0 C, PT 138.91 ohm, NTC 10000 ohm, DIV 1.75 V');
    say('TC 3.096 mV, CJ 25.0 C, PT 138.91 ohm, NTC 1070 ohm, DIV 1.75 V');
    expect(newest('k')).toMatchObject({ unit: 'degC' });
    expect(newest('k')?.value).toBeCloseTo(100, 1);
    expect(newest('terminals')).toMatchObject({ value: 25, unit: 'degC' });
    expect(newest('pt')?.value).toBeCloseTo(100, 1);
    expect(newest('bead')?.value).toBeCloseTo(85, 0);
    expect(newest('raw')).toMatchObject({ value: 19.25, unit: 'V' });
    for (let second = 2; second <= 6; second += 1) {
      clock.advance(1000);
      say('TC 3.096 mV, CJ 25.0 C, PT 138.91 ohm, NTC 1070 ohm, DIV 1.75 V');
    }
    const at = (id: string) => session.state.points.find((point) => point.id === id);
    expect(at('reservoir.volts')).toMatchObject({ value: 19.25, verdict: 'inside' });
    expect(at('logic.case')?.value).toBeCloseTo(100, 1);
  });

  it('give no number when they are broken, and none without a cold junction', async () => {
    const { clock, say, newest, session } = await board();
    say('TC 3.096 mV, CJ OL C, PT 0.02 ohm, NTC 20000000 ohm, DIV 1.75 V');
    expect(newest('k')).toMatchObject({ value: null, mark: 'not-a-number', unit: 'degC' });
    expect(newest('pt')).toMatchObject({ value: null, mark: 'out-of-range', unit: 'degC' });
    expect(newest('bead')).toMatchObject({ value: null, mark: 'out-of-range' });
    clock.advance(1000);
    say('TC 80.0 mV, CJ 25.0 C, PT 138.91 ohm, NTC 1070 ohm, DIV 1.75 V');
    say('TC 80.0 mV, CJ 25.0 C, PT 138.91 ohm, NTC 1070 ohm, DIV 1.75 V');
    expect(newest('k')).toMatchObject({ value: null, mark: 'out-of-range' });
    expect(session.state.points.find(({ id }) => id === 'logic.case')).toMatchObject({
      value: null,
      mark: 'out-of-range',
      verdict: null,
    });
  });
});
