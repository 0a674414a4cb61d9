import { describe, expect, it } from 'vitest';
import { bands } from '../../../daemon/predict/band.js';
import { mapSupply, type Supply } from '../../../daemon/predict/supply.js';
import { factsOf, supplyOf } from '../../../daemon/predict/supply.js';
import type { Spread } from '../../../daemon/design/parts/spread.js';
import { cabin } from '../design/signal-cabin.js';

/** The example with every spread closed but those named. */
function only(spreads: Readonly<Record<string, Spread>>): Supply<Spread> {
  const supply = supplyOf(factsOf(cabin()), { load: 'typical' });
  return mapSupply(supply, ({ typical }, name) => spreads[name] ?? { low: typical, typical, high: typical });
}

describe('bands', () => {
  // JCGM 100:2008, 5.1.2: for a sum, the squares of the parts add; 3 and 4 make 5.
  it('combines independent shifts as root of the sum of squares', () => {
    const supply = only({
      ambient: { low: 17, typical: 20, high: 23 },
      enclosureRise: { low: 1, typical: 5, high: 9 },
    });
    const { air } = bands(supply, ({ circuit }) => ({ air: circuit.ambient + circuit.enclosureRise }));
    expect(air).toEqual({ low: 20, typical: 25, high: 30 });
  });

  it('keeps downward and upward shifts apart', () => {
    const supply = only({ ambient: { low: 19, typical: 20, high: 30 } });
    const results = bands(supply, ({ circuit }) => ({ up: circuit.ambient, down: -circuit.ambient }));
    expect(results['up']).toEqual({ low: 19, typical: 20, high: 30 });
    expect(results['down']).toEqual({ low: -30, typical: -20, high: -19 });
  });

  it('certain values make no band', () => {
    const { sum } = bands(only({}), ({ circuit }) => ({ sum: circuit.ambient }));
    expect(sum).toEqual({ low: 22, typical: 22, high: 22 });
  });
});
