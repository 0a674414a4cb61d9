import { describe, expect, it } from 'vitest';
import type { Design } from '../../../../daemon/design/design.js';
import { loadDesign } from '../../../../daemon/design/load.js';
import { diodeNamed } from '../../../../daemon/design/parts/diodes.js';
import { describeDesign } from '../../../../daemon/predict/engine/description.js';
import { partFigures } from '../../../../daemon/predict/engine/figures.js';
import { supplyModel } from '../../../../daemon/predict/engine/model.js';
import { seeded } from '../rectifier/circuits.js';
import { integrated, type WholeFilter, type WholeWaves } from './whole-supply.js';

const SEED = 20;
const random = seeded(SEED);
const between = (low: number, high: number): number => low + (high - low) * random();
const rounded = (value: number): number => Number(value.toPrecision(3));

const KINDS = ['bridge', 'centre-tap', 'half-wave'] as const;
const FILTERS = ['none', 'rc', 'mosfet', 'darlington'] as const;

/** A 12 V lamp rail and a 5 V logic rail of a signal cabin, behind whatever comes by chance. */
function randomCabin(kind: (typeof KINDS)[number], filtered: (typeof FILTERS)[number]): Design {
  const lamps = rounded(between(0.1, 0.4));
  const logic = rounded(between(0.05, 0.25));
  const farads = (lamps + logic) * between(3000, 9000) * (kind === 'half-wave' ? 2 : 1);
  const esr = rounded((0.15 / (2 * Math.PI * 100 * farads * 1e-6)) * between(0.2, 2));
  const from = filtered === 'none' ? 'reservoir' : 'filter';
  const cooling = { heatsink: 3 };
  const design = {
    design: 'signal cabin',
    mains: { volts: 230, hertz: random() < 0.5 ? 50 : 60 },
    transformer: { volts: rounded(between(19, 22)), va: rounded(between(30, 80)), regulation_percent: 12 },
    rectifier: { kind, diode: '1N4007' },
    reservoir: {
      capacity_uF: rounded(farads),
      esr,
      bleed: 4700,
      load: { ohms: rounded(between(200, 2000)) },
    },
    ...(filtered !== 'none' && { filter: filterOf(filtered, lamps + logic, farads) }),
    rails: {
      lamps: { regulator: '7812', from, cooling, load: lamps },
      logic: { regulator: 'LM317', from: 'reservoir', r1: 240, r2: 720, cooling, load: logic },
    },
  };
  return loadDesign(JSON.stringify(design), 'signal-cabin.design.yaml');
}

function filterOf(kind: 'rc' | 'mosfet' | 'darlington', amps: number, farads: number) {
  if (kind === 'rc') {
    const resistor = rounded(between(0.5, 1.5) / amps);
    return { kind, resistor, capacity_uF: rounded(between(0.8, 1.5) * farads), esr: 0.02 };
  }
  const resistor = kind === 'mosfet' ? 22_000 : rounded(between(1.2, 1.8) * (1500 / amps));
  return { kind: 'multiplier', follower: kind, resistor, capacity_uF: rounded(0.3e6 / resistor) };
}

/** What the parts' data say, by hand: 7812 with 5 mA for itself, LM317 with 1.25 V over R1 and 50 uA besides. */
const GROUND_AMPS = 5e-3;
const DIVIDER_AMPS = 1.25 / 240 + 50e-6;

function wavesOf(design: Design): WholeWaves {
  const { mains, transformer, rectifier, reservoir, filter, rails } = design;
  const kind = rectifier.kind as (typeof KINDS)[number];
  const { volts, va = NaN } = transformer;
  // Each half is rated by half of the VA, and sees three quarters of what both halves lose (copper split evenly).
  const [halves, share] = kind === 'centre-tap' ? [2, 0.75] : [1, 1];
  const lamps = Number(rails['lamps']?.load.full) + GROUND_AMPS;
  const logic = Number(rails['logic']?.load.full) + DIVIDER_AMPS;
  const load = reservoir.load?.full;
  const ohms = typeof load === 'object' ? (load.ohms ?? Infinity) : Infinity;
  const own = (node: number) => logic + node * (1 / ohms + 1 / (reservoir.bleed ?? Infinity));
  return integrated({
    hertz: mains.hertz,
    kind,
    peakVolts: volts * 1.12 * Math.SQRT2,
    ohms: (share * 0.12 * volts * halves * volts) / va,
    diode: diodeNamed('1N4007').law,
    farads: reservoir.capacity_uF * 1e-6,
    esr: reservoir.esr ?? NaN,
    drawn: filter === undefined ? (node) => own(node) + lamps : own,
    ...(filter !== undefined && { filter: lawOf(filter, lamps) }),
  });
}

/** Kirchhoff's laws of a filter that has its headroom; a Darlington of 1500 and 1.4 V, a MOSFET of 3.7 V. */
function lawOf(filter: NonNullable<Design['filter']>, amps: number): WholeFilter {
  const { resistor } = filter;
  const farads = filter.capacity_uF * 1e-6;
  if (filter.kind === 'rc') {
    const esr = filter.esr ?? NaN;
    return (volts, charged) => {
      const output = (volts / resistor + charged / esr - amps) / (1 / resistor + 1 / esr);
      const through = (volts - output) / resistor;
      return { amps: through, rate: (through - amps) / farads, output, watts: through ** 2 * resistor };
    };
  }
  const [drop, base] = filter.follower === 'mosfet' ? [3.7, 0] : [1.4, amps / 1501];
  return (volts, charged) => {
    const through = (volts - charged) / resistor;
    const output = charged - drop;
    const watts = (volts - output) * (amps - base) + drop * base;
    return { amps: amps - base + through, rate: (through - base) / farads, output, watts };
  };
}

const CASES = FILTERS.flatMap((filter) => KINDS.map((kind) => ({ filter, kind })));

describe(`whole supplies of seed ${SEED} against their integration in time`, () => {
  it.each(CASES)('$kind, filter $filter', ({ filter, kind }) => {
    const design = randomCabin(kind, filter);
    const figures = partFigures(supplyModel(describeDesign(design), 'full'));
    const waves = wavesOf(design);
    const { reservoir, rectified, capacitorAmps, output } = waves;
    // An RC filter is felt as the capacitor that holds the ripple's fundamental as it does: `heldTogether` says how near.
    const near =
      filter === 'rc' ? { volts: 0.02, ripple: 0.1, heat: 0.04 } : { volts: 1e-3, ripple: 5e-3, heat: 0.02 };
    const windings = kind === 'centre-tap' ? Math.SQRT2 : 1;
    const compared: [number | undefined, number, number][] = [
      [figures['reservoir']?.['mean_V'], reservoir.mean, near.volts],
      [figures['reservoir']?.['valley_V'], reservoir.least, near.volts],
      [figures['reservoir']?.['ripple_Vpp'], reservoir.most - reservoir.least, near.ripple],
      [figures['reservoir']?.['capacitor_ripple_A'], capacitorAmps.rms, near.ripple],
      [figures['transformer']?.['winding_rms_A'], rectified.rms / windings, near.ripple],
      // A regulator's heat, (Vin - Vout) I + Vin Iq, by the mean of what feeds it.
      [
        figures['lamps']?.['dissipation_W'],
        (output.mean - 12) * Number(design.rails['lamps']?.load.full) + output.mean * GROUND_AMPS,
        near.heat,
      ],
    ];
    if (filter !== 'none') {
      compared.push(
        [figures['filter']?.['mean_V'], output.mean, near.volts],
        [figures['filter']?.['ripple_Vpp'], output.most - output.least, Math.max(0.05, near.ripple)],
        [figures['filter']?.['dissipation_W'], waves.filterWatts.mean, 0.05],
      );
    }
    for (const [place, [ours = NaN, theirs, allowed]] of compared.entries()) {
      expect(Math.abs(ours / theirs - 1), `${place}: ${ours} and ${theirs}`).toBeLessThan(allowed);
    }
  });
});
