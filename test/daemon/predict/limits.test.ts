import { describe, expect, it } from 'vitest';
import { predict } from '../../../daemon/predict/predict.js';
import { cabin } from '../design/signal-cabin.js';

const { points } = predict(cabin(), { load: 'typical' });

describe('limits', () => {
  it('of a rail are what its load survives', () => {
    expect(points['logic.volts']?.limits).toEqual([
      { kind: 'damage', side: 'low', value: 4.75, why: 'what the logic load survives' },
      { kind: 'damage', side: 'high', value: 5.5, why: 'what the logic load survives' },
    ]);
  });

  // ST L78 DS0422: 35 V at the input of a 7805; TI LM317 SLVS044Z: 40 V across it.
  it('of the reservoir are its capacitor and what hangs on it', () => {
    expect(points['reservoir.volts']?.limits.map(({ kind, value }) => [kind, value])).toEqual([
      ['rating', 35],
      ['rating', 40],
      ['rating', 35],
    ]);
  });

  it('of a case leave room for the rise inside it', () => {
    const watts = points['logic.dissipation']?.nominal ?? NaN;
    // 125 C (TI SNOSBT0L) less 5 K/W (ST L78 DS0422) times the heat.
    expect(points['logic.case']?.limits).toEqual([
      {
        kind: 'rating',
        side: 'high',
        value: 125 - 5 * watts,
        why: 'the junction of the 7805 is at 125 °C then',
      },
    ]);
    expect(points['logic.junction']?.limits[0]?.value).toBe(125);
  });

  it('of the transformer is its rated current', () => {
    expect(points['transformer.amps']?.limits[0]).toMatchObject({ kind: 'rating', side: 'high', value: 2 });
  });

  it('own limits: volts protect the load, others are ratings', () => {
    const own = cabin([
      'label: logic regulator tab',
      'limit: { high: 70 }\n  lamps.volts:\n    limit: { low: 11, high: 13 }',
    ]);
    const limits = predict(own, { load: 'typical' }).points['lamps.volts']?.limits;
    expect(limits?.map(({ kind, side, value }) => [kind, side, value])).toEqual([
      ['damage', 'high', 14],
      ['damage', 'low', 11],
      ['damage', 'high', 13],
    ]);
  });
});
