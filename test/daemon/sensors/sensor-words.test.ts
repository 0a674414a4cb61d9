import { describe, expect, it } from 'vitest';
import { joinInstruments } from '../../../daemon/channels.js';
import { loadBench } from '../../../daemon/design/load.js';
import { sensorLines } from '../../../daemon/sensors/sensor-words.js';

function linesOf(...channels: readonly string[]): string[] {
  const text = `bench: table
instruments:
  board:
    driver: scpi-meter
    link: { tcp: 'a:1' }
    channels:
${channels.map((channel) => `      ${channel}\n`).join('')}`;
  return sensorLines(joinInstruments({ file: 't.bench.yaml', text, value: loadBench(text, 't.bench.yaml') }));
}

describe('what is said of sensors', () => {
  // Class B at 25 and 100 degrees C: 0.425 and 0.8 K (IEC 60751); the step of the first ends at 30: 0.45 K.
  it('names the class and whether it was only taken', () => {
    expect(linesOf('case: { measures: ohms, sensor: { pt100: 2-wire } }')).toEqual([
      'board case: sensor of class B (IEC 60751), taken since class is not said; with its meter ± 0.45 K at 25 °C, ± 0.80 K at 100 °C.',
    ]);
    expect(
      linesOf('case: { measures: dc-volts, sensor: { thermocouple: K, cold_junction: 25, class: 1 } }')[0],
    ).toMatch(/^board case: sensor of class 1 \(IEC 60584-1\); with its meter ± 1\.5 K at 25/);
  });

  it('names what is taken of a bead, and nothing where no temperature is measured', () => {
    expect(linesOf('case: { measures: ohms, sensor: { ntc: { beta: 3977, r25: 10000 } } }')[0]).toMatch(
      /± 5 % of its ohms, beta ± 1 %, taken where r25_percent or beta_percent is not said/,
    );
    expect(
      linesOf('raw: { measures: dc-volts, sensor: { divider: 11 } }', 'v: { measures: dc-volts }'),
    ).toEqual([]);
  });
});
