import { expect, it } from 'vitest';
import { crossingsOf, steadyRise, warmUp, type Body, type Stretch } from './ladder.js';

const ON: Stretch = { startS: 0, powerW: 2, airC: 20, convection: 1, event: null, isLifted: false };
const BARE: Body = { caseJPerK: 2, sinkJPerK: 0, caseToSink: 0, lossW: (riseK) => riseK / 50 };

// Closed form of one heat capacity and one loss (any text on heat transfer): 2 W · 50 K/W, 2 J/K · 50 K/W = 100 s.
it('a bare part with proportional losses warms as an exponential', () => {
  const curve = warmUp(BARE, [ON], 1, 10, 300, 1);
  expect(steadyRise(BARE, ON)).toBeCloseTo(100, 6);
  expect(curve.case[1000]).toBeCloseTo(20 + 100 * (1 - Math.exp(-1)), 2);
  const crossings = crossingsOf(curve, [70, 130]);
  expect(crossings['70']).toBeCloseTo(100 * Math.LN2, 0);
  expect(crossings['130']).toBeNull();
});

it('a probe lags behind, and a bead that fell off goes to the air', () => {
  const hot = { ...BARE, lossW: () => 2 };
  const rest = warmUp(
    { ...hot, caseJPerK: 1e9 },
    [
      { ...ON, airC: 60 },
      { ...ON, startS: 50, isLifted: true },
    ],
    4,
    10,
    70,
    1,
  );
  expect(rest.read[40]).toBeCloseTo(60, 3);
  expect(rest.read[60]).toBeCloseTo(20 + 40 * Math.exp(-1), 0);
});

it('a case stands above its heatsink by power times the resistance between them', () => {
  const body: Body = { ...BARE, sinkJPerK: 20, caseToSink: 1.5, lossW: (riseK) => riseK / 10 };
  expect(steadyRise(body, ON)).toBeCloseTo(2 * (10 + 1.5), 6);
  expect(warmUp(body, [ON], 1, 10, 2400, 1).case.at(-1)).toBeCloseTo(20 + 23, 1);
});
