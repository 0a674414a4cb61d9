import { expect, test } from 'vitest';
import { steadyTemperatures, totalResistance } from '../../../../daemon/predict/thermal/ladder.js';

function stages(junctionToCase: number, caseToSink: number, sinkToAir: number) {
  return [
    { name: 'junction', capacity: 0.05, resistance: junctionToCase },
    { name: 'case', capacity: 2, resistance: caseToSink },
    { name: 'heatsink', capacity: 90, resistance: sinkToAir },
  ];
}

// LT1083-5 datasheet, thermal example: 24 W, air 75 °C, sink 1 K/W, case to sink 0.2, junction to case 1.6 (power section):
// 142 °C. Its control section is printed as 118 °C, which is 0.6 K/W; the 0.5 of the text gives 115.8.
test.each([
  [1.6, 142.2],
  [0.6, 118.2],
  [0.5, 115.8],
])('24 W through %d K/W inside make %d °C', (junctionToCase, junction) => {
  expect(steadyTemperatures(stages(junctionToCase, 0.2, 1), 24, 75)[0]).toBeCloseTo(junction, 9);
});

// Lecture slides: 5 W through 3 K/W, compound 1 K/W and a sink of 13.2 K/W over 50 °C: junction 136 °C, sink 66 K over air.
test('every stage is hotter than the next by P·R', () => {
  const [junction, body, sink] = steadyTemperatures(stages(3, 1, 13.2), 5, 50);
  expect(junction).toBeCloseTo(136, 9);
  expect(body).toBeCloseTo(121, 9);
  expect(sink).toBeCloseTo(116, 9);
  expect(totalResistance(stages(3, 1, 13.2))).toBeCloseTo(17.2, 12);
});
