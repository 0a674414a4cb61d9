import type { Diode, RectifierCircuit, RectifierKind } from '../../../../daemon/predict/rectifier/circuit.js';
import { sourceFromRating } from '../../../../daemon/predict/rectifier/series-resistance.js';

/** Common silicon rectifier, as the reference cases describe it. */
export const junctionDiode: Diode = {
  law: 'shockley',
  saturationCurrent: 7e-9,
  emissionCoefficient: 1.8,
  thermalVoltage: 0.025852,
  seriesResistance: 0.04,
};

/** No drop, no slope. */
export const idealDiode: Diode = { law: 'fixed-drop', forwardDrop: 0, slopeResistance: 0 };

/** Lamp rail of a model-railway signal cabin: 15 V, 40 VA, 4700 uF, 1 A. */
export const lampRail: RectifierCircuit = {
  kind: 'bridge',
  oneDiodeOpen: false,
  hertz: 50,
  ...sourceFromRating({ ratedVolts: 15, ratedCurrent: 40 / 15, regulation: 0.12 }),
  diode: junctionDiode,
  capacitance: 4.7e-3,
  capacitorResistance: 0.05,
  loadCurrent: 1,
  loadResistance: Infinity,
};

/** Numbers in [0, 1) from a seed (mulberry32). */
export function seeded(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
}

/** A fair supply of a hobby bench: 9-40 V, 5-200 VA, 220 uF-22 mF, 5 mA-4 A within the transformer's rating. */
export function benchCircuit(random: () => number): RectifierCircuit {
  const between = (low: number, high: number): number => low * (high / low) ** random();
  const kind = (['bridge', 'centre-tapped', 'half-wave'] as const satisfies RectifierKind[])[
    Math.floor(3 * random())
  ]!;
  const oneDiodeOpen = kind !== 'half-wave' && random() < 0.2;
  const ratedVolts = between(9, 40);
  const ratedCurrent = between(5, 200) / ratedVolts;
  const once = kind === 'half-wave' || oneDiodeOpen;
  const current = between(0.005, Math.min(4, ratedCurrent * (once ? 0.3 : 0.6)));
  const leastFarads = (current * 0.02) / (0.4 * ratedVolts);
  const share = [0, 1, 0.5][Math.floor(3 * random())]!;
  return {
    kind,
    oneDiodeOpen,
    hertz: random() < 0.5 ? 50 : 60,
    ...sourceFromRating({ ratedVolts, ratedCurrent, regulation: between(0.05, 0.3) }),
    diode: junctionDiode,
    capacitance: between(Math.max(220e-6, leastFarads), 22e-3),
    capacitorResistance: random() < 0.2 ? 0 : between(0.005, 0.2),
    loadCurrent: share * current,
    loadResistance: share === 1 ? Infinity : (1.2 * ratedVolts) / ((1 - share) * current),
  };
}
