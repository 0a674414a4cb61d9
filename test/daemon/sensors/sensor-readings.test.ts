import { describe, expect, it } from 'vitest';
import { joinInstruments } from '../../../daemon/channels.js';
import { loadBench } from '../../../daemon/design/load.js';
import { SensorReadings } from '../../../daemon/sensors/sensor-readings.js';

function joined(channels: string, others = '') {
  const text = `bench: table
instruments:
  board:
    driver: scpi-meter
    link: { tcp: 'a:1' }
    options: { interval_ms: 500 }
    channels:
${channels.replace(/^/gm, '      ')}
${others}`;
  return joinInstruments({ file: 't.bench.yaml', text, value: loadBench(text, 't.bench.yaml') });
}

const volts = (atMs: number, channel: string, value: number) =>
  ({ kind: 'reading', atMs, channel, value, unit: 'V' }) as const;
const degrees = (atMs: number, channel: string, value: number) =>
  ({ kind: 'reading', atMs, channel, value, unit: 'degC' }) as const;

describe('a cold junction', () => {
  const OTHER = `  air:
    driver: scpi-meter
    link: { tcp: 'b:1' }
    options: { interval_ms: 500 }
    channels: { t: { measures: temperature } }
`;
  const TC = 'tc: { measures: dc-volts, sensor: { thermocouple: K, cold_junction: air t } }';

  it('may be another instrument, and is not known any more after three of its intervals', () => {
    const instruments = joined(TC, OTHER);
    const readings = new SensorReadings(instruments);
    const goodForMs = 3 * (instruments.find(({ name }) => name === 'air')?.plans[0]?.intervalMs ?? 0);
    expect(readings.reading('board', volts(0, 'tc', 0.003096))).toMatchObject({ mark: 'not-a-number' });
    expect(readings.reading('air', degrees(0, 't', 25))).toEqual(degrees(0, 't', 25));
    expect(readings.reading('board', volts(goodForMs, 'tc', 0.003096)).value).toBeCloseTo(100, 1);
    expect(readings.reading('board', volts(goodForMs + 1, 'tc', 0.003096))).toMatchObject({ value: null });
  });

  it.each([
    ['tc: { measures: dc-volts, sensor: { thermocouple: K, cold_junction: tc } }', /another channel/],
    ['tc: { measures: dc-volts, sensor: { thermocouple: K, cold_junction: nowhere } }', /"nowhere"/],
    ['tc: { measures: dc-volts, sensor: { thermocouple: K, cold_junction: 300 } }', /-40 to 125/],
  ])('of %s is refused with its place', (channels, message) => {
    expect(() => joined(channels)).toThrow(/t\.bench\.yaml:8 .*cold_junction/);
    expect(() => joined(channels)).toThrow(message);
  });
});

describe('a sensor in the bench file', () => {
  it.each([
    ['a: { measures: ohms, sensor: { pt100: 5-wire } }', /sensor\.pt100: found "5-wire"; allowed is 2-wire/],
    ['a: { measures: ohms, sensor: { thermocouple: K, cold_junction: 25 } }', /ohms.*read with thermocouple/],
    ['a: { measures: dc-volts, at: x.case, sensor: { divider: 11 } }', /the channel measures dc-volts/],
    ['a: { measures: dc-volts, sensor: { banana: 1 } }', /a group with one of thermocouple, pt100/],
  ])('%s is refused in words', (channels, message) => {
    expect(() => joined(channels)).toThrow(message);
  });

  it('may sit where what it makes of the reading belongs', () => {
    const [board] = joined('a: { measures: ohms, at: x.case, sensor: { pt100: 4-wire } }');
    expect([...(board?.probes ?? [])]).toEqual([['a', 'x.case']]);
  });
});

describe('captures through a sensor', () => {
  const capture = {
    atMs: 0,
    channel: 'a',
    unit: 'V',
    samples: Uint8Array.of(1, 2),
    scale: 0.1,
    offset: -1,
    startSeconds: 0,
    stepSeconds: 1,
    coupling: 'dc',
    attenuation: null,
    acquisition: 1,
  } as const;
  const through = (sensor: string, measures = 'dc-volts') =>
    new SensorReadings(joined(`a: { measures: ${measures}, sensor: ${sensor} }`)).capture('board', capture);

  it('are scaled by a divider, and by a shunt become amps', () => {
    expect(through('{ probe: 10 }')).toMatchObject({ unit: 'V', scale: 1, offset: -10 });
    expect(through('{ shunt_ohms: 0.1 }')).toMatchObject({ unit: 'A', scale: 1, offset: -10 });
  });

  it('are none through a curve', () => {
    expect(through('{ thermocouple: K, cold_junction: 25 }')).toBeNull();
  });
});
