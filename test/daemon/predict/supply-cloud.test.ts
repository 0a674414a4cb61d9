import { describe, expect, it } from 'vitest';
import type { Spread } from '../../../daemon/design/parts/spread.js';
import { cloudBands, drawSupplyCloud, worstCorner } from '../../../daemon/predict/supply-cloud.js';
import { factsOf, mapSupply, supplyOf, type Supply } from '../../../daemon/predict/supply.js';
import { cabin } from '../design/signal-cabin.js';

/** The example with every spread closed but those named. */
function only(spreads: Readonly<Record<string, Spread>>): Supply<Spread> {
  const supply = supplyOf(factsOf(cabin()), { load: 'typical' });
  return mapSupply(supply, ({ typical }, name) => spreads[name] ?? { low: typical, typical, high: typical });
}
const air = ({ circuit }: Supply<number>) => ({ air: circuit.ambient + circuit.enclosureRise });
const warmth = only({
  ambient: { low: 17, typical: 20, high: 23 },
  enclosureRise: { low: 16, typical: 20, high: 24 },
});

describe('the cloud (seed 7)', () => {
  // For a sum of normal values the variances add (JCGM 100:2008, 5.1.2): 3 and 4 make 5.
  it('gives a sum of normal values the root of the sum of their squares', () => {
    const { air: band } = cloudBands(drawSupplyCloud(warmth, air, { draws: 16384, seed: 7 }));
    expect(band?.low).toBeCloseTo(35, 1);
    expect(band?.typical).toBeCloseTo(40, 1);
    expect(band?.high).toBeCloseTo(45, 1);
  });

  it('says what the spread comes from: 9/25 and 16/25 of the variance', () => {
    const { air: band } = cloudBands(drawSupplyCloud(warmth, air, { draws: 16384, seed: 7 }));
    expect(band?.shares.map(({ from }) => from)).toEqual(['enclosureRise', 'ambient']);
    expect(band?.shares[0]?.share).toBeCloseTo(16 / 25, 1);
    expect(band?.shares[1]?.share).toBeCloseTo(9 / 25, 1);
  });

  it('names the worst corner: both at their ends', () => {
    const { air: band } = cloudBands(drawSupplyCloud(warmth, air, { draws: 256, seed: 7 }));
    expect(worstCorner(warmth, air, 'air', band?.shares ?? [], 'high')).toBe(47);
    expect(worstCorner(warmth, air, 'air', band?.shares ?? [], 'low')).toBe(33);
  });

  it('is the same for the same seed and another for another', () => {
    const draw = (seed: number) => drawSupplyCloud(warmth, air, { draws: 64, seed }).results['air'];
    expect(draw(3)).toEqual(draw(3));
    expect(draw(3)).not.toEqual(draw(4));
  });

  it('makes no band of certain values', () => {
    const { air: band } = cloudBands(drawSupplyCloud(only({}), air, { draws: 64, seed: 7 }));
    expect(band).toEqual({ low: 27, typical: 27, high: 27, shares: [] });
  });
});
