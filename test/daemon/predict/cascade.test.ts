import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { loadDesign } from '../../../daemon/design/load.js';
import { predict } from '../../../daemon/predict/predict.js';
import { factsOf, mapSupply, supplyOf } from '../../../daemon/predict/supply.js';
import { workOut } from '../../../daemon/predict/work-out.js';

const folder = new URL('../../../daemon/design/examples/level-crossing/', import.meta.url);
const TEXT = readFileSync(new URL('level-crossing.design.yaml', folder), 'utf8');

function worked(text: string, change: Partial<{ mainsVolts: number; farads: number; ambient: number }> = {}) {
  const facts = factsOf(loadDesign(text, 'level-crossing.design.yaml'));
  const supply = mapSupply(supplyOf(facts, { load: 'full' }), ({ typical }) => typical);
  return workOut(facts, { ...supply, circuit: { ...supply.circuit, ...change } });
}

describe('a rail fed from another', () => {
  const state = worked(TEXT);

  // Worked on paper: 7805 and 7812 with 5 mA of their own (Fairchild LM78XX Rev 1.3.0), 0.2 A and 0.6 A of load.
  it('puts its current through both regulators', () => {
    expect(state.rails['flasher']?.outputAmps).toBeCloseTo(0.2, 12);
    expect(state.rails['barriers']?.outputAmps).toBeCloseTo(0.6 + 0.2 + 0.005, 12);
    expect(state.raw.amps - state.raw.mean / 2200).toBeCloseTo(0.81, 4);
  });

  it('drops from the rail above it: (12 - 5) x 0.2 + 12 x 0.005 = 1.46 W', () => {
    expect(state.rails['flasher']?.dissipation).toBeCloseTo(1.46, 9);
    expect(state.rails['flasher']?.input.mean).toBeCloseTo(12, 9);
  });

  it('hums no more than its source, far less than fed from the reservoir', () => {
    const direct = worked(TEXT.replace('from: barriers', 'from: reservoir'));
    expect(state.rails['flasher']?.ripple).toBeLessThan((direct.rails['flasher']?.ripple ?? 0) / 100);
  });

  it('the example predicts without anything that destroys', () => {
    const { advice } = predict(loadDesign(TEXT, 'x'), { load: 'full' });
    expect(advice.filter(({ severity }) => severity !== 'note')).toEqual([]);
  });
});

// R = 2 ohm at 0.205 A: 0.41 V and 84 mW less for the regulator (Ohm's law).
it('a series resistor takes its share of the heat', () => {
  const plain = worked(TEXT).rails['flasher'];
  const shared = worked(TEXT.replace('from: barriers', 'from: barriers\n    series: 2')).rails['flasher'];
  expect(shared?.seriesWatts).toBeCloseTo(0.205 ** 2 * 2, 12);
  expect((plain?.dissipation ?? 0) - (shared?.dissipation ?? 0)).toBeCloseTo(0.205 ** 2 * 2, 9);
});

it('what goes in comes out: source power = loads + regulators + bleed (seed 31)', () => {
  const property = fc.property(
    fc.double({ min: 200, max: 260, noNaN: true }),
    fc.double({ min: 1e-3, max: 2e-2, noNaN: true }),
    (mainsVolts, farads) => {
      const { raw, rails } = worked(TEXT, { mainsVolts, farads });
      const { barriers, flasher } = rails;
      if (barriers === undefined || flasher === undefined) throw new Error('a rail is missing');
      const out = barriers.volts * 0.6 + flasher.volts * 0.2;
      const heat = barriers.dissipation + flasher.dissipation;
      // Ripple times ripple of the bleed's current is left out: (rms / mean)^2 of a few milliwatts.
      expect(raw.mean * raw.amps).toBeCloseTo(out + heat + raw.mean ** 2 / 2200, 2);
    },
  );
  fc.assert(property, { numRuns: 40, seed: 31 });
});
