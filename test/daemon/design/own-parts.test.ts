import { describe, expect, it } from 'vitest';
import { diodeOf, partsOf } from '../../../daemon/design/own-parts.js';
import { diodeVolts } from '../../../daemon/design/parts/diodes.js';
import { regulatorNamed } from '../../../daemon/design/parts/regulators.js';
import { example, messages } from './topologies.js';

const PARTS = "parts: # what the library doesn't have, each like something that it has\n";
const withParts = (text: string) => [PARTS, `parts:\n${text}`] as const;

describe("the user's own parts", () => {
  it('have what is written, and the rest from what they are like', () => {
    const own =
      '  regulators:\n    LM317-hot: { like: LM317, junction_operating: 150, dropout: { low: 2, typical: 2.2, high: 2.6 } }\n';
    const part = partsOf(example('goods-crane', withParts(own))).regulators.get('LM317-hot');
    expect(part).toEqual({
      ...regulatorNamed('LM317'),
      name: 'LM317-hot',
      junctionOperating: 150,
      dropout: { low: 2, typical: 2.2, high: 2.6, atAmps: 1 },
    });
  });

  it('one number moves the whole spread', () => {
    const own = '  regulators:\n    ten: { like: 7812, volts: 10 }\n';
    const part = partsOf(example('goods-crane', withParts(own))).regulators.get('ten');
    expect(part?.volts.low).toBeCloseTo(9.5, 12);
    expect(part?.volts).toMatchObject({ typical: 10, high: 10.5 });
    expect(part?.rippleRejection_dB.atVolts).toBe(10);
  });

  it('a diode goes through the two points of its curve, in either order', () => {
    const own = '  diodes:\n    fat: { like: 1N5401, curve: [[1.1, 20], [0.8, 2]], surge_amps: 300 }\n';
    const part = partsOf(example('goods-crane', withParts(own))).diodes.get('fat');
    expect(part && diodeVolts(part.law, 2)).toBeCloseTo(0.8, 6);
    expect(part && diodeVolts(part.law, 20)).toBeCloseTo(1.1, 6);
    expect(part).toMatchObject({ surgeAmps: 300, ratedAmps: 6 });
  });

  it('a written drop holds at 1 A', () => {
    const diode = diodeOf(example('goods-crane', ['diode: KBPC25', 'diode: KBPC25, drop: 0.75']));
    expect(diode && diodeVolts(diode.law, 1)).toBeCloseTo(0.75, 9);
    expect(diode?.surgeAmps).toBe(300);
  });

  it.each([
    [
      '  regulators: { LM317: { like: LM337 } }\n',
      'parts.regulators.LM317: found "LM317", a regulator that the part library has already; a name that the part library doesn\'t have (LM317-b for example) is allowed',
    ],
    [
      '  diodes: { mine: { like: 1N4O07 } }\n',
      'parts.diodes.mine.like: found "1N4O07", a diode that isn\'t in the part library; did you mean 1N4007?',
    ],
    [
      '  diodes: { mine: { like: 1N4007, curve: [[0.9, 1], [0.91, 12]] } }\n',
      'parts.diodes.mine.curve: found 0.9 V at 1 A, 0.91 V at 12 A; two points of a forward curve, the second at more amps and clearly more volts, are allowed',
    ],
    [
      '  regulators: { mine: { like: LM317, volts: { low: 2, typical: 1, high: 3 } } }\n',
      'parts.regulators.mine.volts: found 2, 1, 3; low, typical and high in rising order are allowed',
    ],
    [
      '  regulators: { mine: { lik: LM317 } }\n',
      'parts.regulators.mine.lik: this key is unknown here; did you mean like?',
    ],
  ])('%s', (text, message) => {
    expect(messages('goods-crane', withParts(text))).toEqual([message]);
  });
});
