import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { partFigures } from '../../../../daemon/predict/engine/figures.js';
import { supplyModel } from '../../../../daemon/predict/engine/model.js';
import { certain } from '../../../../daemon/predict/engine/parameters.js';
import type { RailDescription, SupplyDescription } from '../../../../daemon/predict/engine/supply.js';
import {
  about,
  adjustableRegulator,
  cooledBy,
  drawing,
  fixedRegulator,
  rail,
  reservoir,
  signalCabin,
  splitCabin,
  typicalResults,
} from './supplies.js';

// LM317, TI SLVS044Z: VO = Vref (1 + R2/R1) + Iadj R2 with 1.25 V and 50 uA; heat (VI - VO) IO; T = air + P x K/W.
describe('an LM317 supply worked on paper', () => {
  const results = typicalResults(signalCabin());

  it('sets 1.25 x (1 + 2050/240) + 50 uA x 2050 = 12.0296 V', () => {
    expect(results['lamps.volts']).toBeCloseTo(12.0296, 4);
  });

  it('turns what it drops into heat, R1 counted in', () => {
    const amps = 0.4 + 1.25 / 240;
    const paper = (results['reservoir.volts']! - 12.029583) * amps;
    expect(results['lamps.dissipation']).toBeCloseTo(paper, 6);
  });

  it('stands at air + P x (8 + 1) K/W at its case and 5 K/W more at its junction', () => {
    const watts = results['lamps.dissipation']!;
    expect(results['lamps.case']).toBeCloseTo(27 + 9 * watts, 9);
    expect(results['lamps.junction']).toBeCloseTo(27 + 14 * watts, 9);
  });

  it('takes 65 dB x Vref-ratio off the ripple: at 12.03 V instead of 10 V, 1.6 dB less', () => {
    const left = 10 ** (-(65 - 20 * Math.log10(1 + 2050 / 240) + 20 * Math.log10(10 / 1.25)) / 20);
    expect(results['lamps.ripple']! / results['reservoir.ripple']!).toBeCloseTo(left, 9);
  });
});

// 78xx with 5 mA of its own: currents by Kirchhoff, heat by Ohm.
describe('a rail fed from another', () => {
  const cascade = signalCabin({
    rails: [
      rail('bells', { from: 'lamps', load: drawing('bells', 0.2) }),
      rail('lamps', { regulator: fixedRegulator('lamps', 12), load: drawing('lamps', 0.3) }),
    ],
  });

  it('is found whatever the order in the list, and puts its current through both', () => {
    const { lamps, bells } = partFigures(supplyModel(cascade, 'typical'));
    expect(bells?.['output_A']).toBeCloseTo(0.2, 12);
    expect(lamps?.['output_A']).toBeCloseTo(0.505, 12);
    expect(lamps?.['input_A']).toBeCloseTo(0.51, 12);
  });

  it('drops from the rail above it: (12 - 5) x 0.2 + 12 x 5 mA = 1.46 W', () => {
    expect(typicalResults(cascade)['bells.dissipation']).toBeCloseTo(1.46, 9);
  });

  it('hums by both rejections in dB: 73 + 73', () => {
    const results = typicalResults(cascade);
    expect(results['bells.ripple']! / results['reservoir.ripple']!).toBeCloseTo(10 ** (-146 / 20), 12);
  });

  it('sinks with the rail above it where that runs out of volts', () => {
    const low = signalCabin({
      mains: { ratedVolts: 230, volts: certain('mainsVolts', 90), hertz: 50 },
      rails: cascade.rails,
    });
    const results = typicalResults(low);
    expect(results['lamps.headroom']).toBeLessThan(0);
    expect(results['lamps.volts']).toBeLessThan(results['reservoir.volts']! - 1);
    expect(results['bells.volts']).toBeLessThan(results['lamps.volts']!);
  });
});

// R = 4 ohm at 0.25 A + 5 mA: 1.02 V (Ohm's law).
it('a series resistor takes its share of the heat and of the headroom', () => {
  const plain = typicalResults(signalCabin());
  const cabin = signalCabin();
  const [lamps, logic] = cabin.rails as [RailDescription, RailDescription];
  const shared = typicalResults(signalCabin({ rails: [lamps, { ...logic, seriesOhms: 4 }] }));
  expect(plain['logic.dissipation']! - shared['logic.dissipation']!).toBeCloseTo(4 * 0.255 ** 2, 9);
  const cooler = 14 * 4 * 0.255 ** 2 * 0.0031;
  expect(plain['logic.headroom']! - shared['logic.headroom']!).toBeCloseTo(4 * 0.255 + cooler, 6);
});

describe('split rails', () => {
  it('with equal loads mirror each other, the negative ones with their sign', () => {
    const results = typicalResults(splitCabin());
    expect(results['negative-reservoir.volts']).toBeCloseTo(-results['reservoir.volts']!, 9);
    expect(results['bells.volts']).toBeCloseTo(-12, 9);
    expect(results['bells.case']).toBeCloseTo(results['points.case']!, 9);
  });

  it('load both halves of the winding in turn: sqrt 2 of what one polarity alone gives a half', () => {
    const { rectifier, transformer } = partFigures(supplyModel(splitCabin(), 'typical'));
    expect(transformer?.['winding_rms_A']).toBeCloseTo(Math.SQRT2 * rectifier!['diode_rms_A']!, 9);
  });

  // Half the ohms are the half winding's, a quarter each polarity's share of the primary: regulation is stated for both loaded.
  it('with one polarity idle sag less than with both loaded', () => {
    const idle = splitCabin();
    const [points, bells] = idle.rails as [RailDescription, RailDescription];
    const one = typicalResults({ ...idle, rails: [points, { ...bells, load: drawing('bells', 0) }] });
    expect(one['reservoir.volts']).toBeGreaterThan(typicalResults(idle)['reservoir.volts']! + 0.1);
  });
});

describe('a switching module', () => {
  const module = (volts: number): RailDescription =>
    rail('logic', {
      load: drawing('logic', 1),
      regulator: {
        kind: 'switching',
        volts: certain('logic.volts', volts),
        dropoutVolts: certain('logic.dropout', 1),
        rejection_dB: certain('logic.rejection_dB', 60),
        efficiency: [{ amps: 1, share: 0.8 }],
        lossFactor: certain('logic.lossFactor', 1),
        idleAmps: 0,
        junctionLimit: 125,
      },
    });

  // Efficiency is output power over input power: 5 W / 0.8 = 6.25 W in, 1.25 W lost.
  it('draws its power at whatever volts the reservoir then has', () => {
    const { logic, reservoir: node } = partFigures(
      supplyModel(signalCabin({ rails: [module(5)] }), 'typical'),
    );
    expect(logic!['input_A']! * node!['mean_V']!).toBeCloseTo(6.25, 4);
    expect(logic?.['dissipation_W']).toBeCloseTo(1.25, 4);
  });

  it('that wants more than the winding gives is an error that names it, not a number', () => {
    const weak = signalCabin({ rails: [module(14)] });
    const { transformer } = weak;
    const feeble = { ...transformer, ratedAmps: 0.1, regulation: certain('regulation', 0.3) };
    expect(() => supplyModel({ ...weak, transformer: feeble }, 'typical')).toThrow(
      /supply "signal cabin": currents and volts don't settle.*logic/,
    );
  });
});

// 12 V zener through 470 ohm, 0.7 V to the emitter (Ohm's law; textbook series regulator).
it('a zener follower holds the zener less a junction, and its resistor loads the reservoir', () => {
  const zener = rail('lamps', {
    load: drawing('lamps', 0.1),
    regulator: {
      kind: 'zener',
      zenerVolts: certain('lamps.zener', 12),
      zenerTestAmps: 0,
      zenerResistance: certain('lamps.rz', 0),
      resistance: certain('lamps.base', 470),
      beta: certain('lamps.beta', 99),
      baseEmitterVolts: certain('lamps.vbe', 0.7),
      saturationVolts: certain('lamps.vce', 0.3),
      junctionLimit: 150,
    },
  });
  const { lamps, reservoir: node } = partFigures(supplyModel(signalCabin({ rails: [zener] }), 'typical'));
  expect(lamps?.['mean_V']).toBeCloseTo(11.3, 9);
  const resistor = (node!['mean_V']! - 12) / 470;
  expect(lamps?.['input_A']).toBeCloseTo(0.1 - 0.1 / 100 + resistor, 6);
  const transistor = (node!['mean_V']! - 11.3) * 0.099 + 0.7 * 0.001;
  expect(lamps?.['dissipation_W']).toBeCloseTo(transistor, 6);
});

// Two parts, one sink: sink = air + R (P1 + P2), each case P x interface above it.
it('parts on a shared heatsink warm each other', () => {
  const cabin = signalCabin();
  const on = (part: RailDescription): RailDescription => ({
    ...part,
    cooling: {
      ...part.cooling,
      mounting: { interface: certain(`${part.name}.caseSink`, 1), heatsink: 'wall', fitted: true },
    },
  });
  const wall = {
    kind: 'rated' as const,
    toAir: certain('wall.toAir', 3),
    capacity: certain('wall.capacity', 200),
  };
  const results = typicalResults({ ...cabin, rails: cabin.rails.map(on), heatsinks: { wall } });
  const watts = [results['lamps.dissipation']!, results['logic.dissipation']!] as const;
  const sink = 27 + 3 * (watts[0] + watts[1]);
  expect(results['lamps.case']).toBeCloseTo(sink + watts[0], 9);
  expect(results['logic.case']).toBeCloseTo(sink + watts[1], 9);
});

// Published 50 to 65 K/W for a bare TO-220 (ST, National; Fairchild): some 2.9 W brings it far past its rating.
it('a bare package runs at about its published K/W', () => {
  const cabin = signalCabin();
  const bare = cabin.rails.map((each) => ({ ...each, cooling: cooledBy(each.name, null) }));
  const results = typicalResults({ ...cabin, rails: bare });
  const resistance = (results['logic.junction']! - 27) / results['logic.dissipation']!;
  expect(resistance).toBeGreaterThan(40);
  expect(resistance).toBeLessThan(57);
});

// LM317 datasheets: 2.2 A typical up to 15 V across it.
it('a load beyond the current limit pulls its rail down until the limit carries it', () => {
  const limited = { ...fixedRegulator('lamps', 12), currentLimit: [{ difference: 15, amps: 0.5 }] };
  const short = rail('lamps', { regulator: limited, load: drawing('lamps', 0, 6) });
  const { lamps } = partFigures(supplyModel(signalCabin({ rails: [short] }), 'typical'));
  expect(lamps?.['output_A']).toBeCloseTo(0.5, 4);
  expect(lamps?.['mean_V']).toBeCloseTo(3, 3);
});

describe('what goes in comes out', () => {
  const supply = (
    draw: Record<'volts' | 'farads' | 'lamps' | 'logic' | 'bleed', number>,
  ): SupplyDescription =>
    signalCabin({
      mains: { ratedVolts: 230, volts: certain('mainsVolts', draw.volts), hertz: 50 },
      reservoir: reservoir(draw.farads, { bleedOhms: draw.bleed, load: drawing('reservoir', 0.02, 2000) }),
      rails: [
        rail('lamps', { regulator: adjustableRegulator('lamps', 2050), load: drawing('lamps', draw.lamps) }),
        rail('logic', { from: 'lamps', load: drawing('logic', draw.logic) }),
        rail('bells', { load: drawing('bells', draw.logic), seriesOhms: 3 }),
      ],
    });

  it('source power = loads + every loss within 0.1 % (seed 41)', () => {
    const property = fc.property(
      fc.record({
        volts: fc.double({ min: 150, max: 260, noNaN: true }),
        farads: fc.double({ min: 5e-4, max: 2e-2, noNaN: true }),
        lamps: fc.double({ min: 0, max: 0.8, noNaN: true }),
        logic: fc.double({ min: 0, max: 0.3, noNaN: true }),
        bleed: fc.double({ min: 300, max: 1e5, noNaN: true }),
      }),
      (draw) => {
        const {
          transformer,
          rectifier,
          reservoir: node,
          ...rails
        } = partFigures(supplyModel(supply(draw), 'typical'));
        const keys = ['load_W', 'divider_W', 'loss_W', 'series_W'] as const;
        const inRails = Object.values(rails).flatMap((figures) => keys.map((key) => figures[key]!));
        const spent = [
          transformer!['dissipation_W']!,
          rectifier!['dissipation_W']!,
          node!['capacitor_dissipation_W']!,
          node!['bleed_W']!,
          node!['load_W']!,
          ...inRails,
        ].reduce((sum, watts) => sum + watts, 0);
        expect(Math.abs(spent / transformer!['input_W']! - 1)).toBeLessThan(1e-3);
      },
    );
    fc.assert(property, { seed: 41, numRuns: 150 });
  });

  it('the same behind a capacitance multiplier, saturated or not (seed 42)', () => {
    const property = fc.property(
      fc.double({ min: 1e-3, max: 2e-2, noNaN: true }),
      fc.double({ min: 0.05, max: 1.2, noNaN: true }),
      (farads, amps) => {
        const model = supplyModel(multiplied(farads, amps), 'typical');
        const { transformer, rectifier, reservoir: node, filter } = partFigures(model);
        const base =
          node!['mean_V']! * filter!['input_A']! - filter!['mean_V']! * amps - filter!['dissipation_W']!;
        const spent =
          transformer!['dissipation_W']! +
          rectifier!['dissipation_W']! +
          node!['capacitor_dissipation_W']! +
          filter!['load_W']! +
          filter!['dissipation_W']! +
          base;
        // What the base network takes is the rest: it must be there, and small.
        expect(base).toBeGreaterThan(-2e-3 * transformer!['input_W']!);
        expect(base).toBeLessThan(0.03 * transformer!['input_W']!);
        expect(Math.abs(spent / transformer!['input_W']! - 1)).toBeLessThan(1e-3);
      },
    );
    fc.assert(property, { seed: 42, numRuns: 60 });
  }, 120_000);
});

function multiplied(farads: number, amps: number): SupplyDescription {
  return signalCabin({
    reservoir: reservoir(farads),
    filter: {
      kind: 'multiplier',
      follower: {
        kind: 'bipolar',
        beta: about('beta', 100),
        baseEmitterVolts: certain('vbe', 0.75),
        saturationVolts: certain('vce', 0.3),
      },
      resistance: certain('base', 470),
      capacitance: certain('baseFarads', 470e-6),
      dividerOhms: Infinity,
      load: drawing('filter', amps),
      cooling: cooledBy('filter', 4),
      junctionLimit: 150,
      shorted: false,
    },
    rails: [],
  });
}

it('more load never gives more volts anywhere (seed 43)', () => {
  const loaded = (lamps: number, logic: number): Record<string, number> => {
    const cabin = signalCabin();
    const [first, second] = cabin.rails as [RailDescription, RailDescription];
    return typicalResults({
      ...cabin,
      rails: [
        { ...first, load: drawing('lamps', lamps) },
        { ...second, load: drawing('logic', logic) },
      ],
    });
  };
  const amps = fc.double({ min: 0, max: 1.5, noNaN: true });
  const property = fc.property(amps, amps, fc.double({ min: 0.01, max: 0.5, noNaN: true }), (a, b, more) => {
    const before = loaded(a, b);
    const after = loaded(a + more, b);
    for (const id of [
      'reservoir.volts',
      'reservoir.valley',
      'lamps.volts',
      'logic.volts',
      'lamps.headroom',
    ]) {
      expect(after[id]!, id).toBeLessThanOrEqual(before[id]! + 1e-6);
    }
  });
  fc.assert(property, { seed: 43, numRuns: 60 });
});

it('gives the same for a draw whatever was worked out before it', () => {
  const model = supplyModel(multiplied(2e-3, 1), 'typical');
  const draw = model.typicalDraw();
  const other = draw.map((value, k) => (k % 2 === 0 ? model.parameters[k]!.low : value));
  const [first, between, again] = [0, 0, 0].map(() => new Float64Array(model.outputs.length));
  model.evaluate(draw, first!);
  model.evaluate(other, between!);
  model.evaluate(draw, again!);
  expect(again).toEqual(first);
  expect(between).not.toEqual(first);
});

it('a shorted follower passes the ripple', () => {
  const healthy = multiplied(4.7e-3, 0.5);
  const { filter } = healthy;
  if (filter?.kind !== 'multiplier') throw new Error('the filter is missing');
  const results = typicalResults({ ...healthy, filter: { ...filter, shorted: true } });
  expect(results['filter.ripple']! / results['reservoir.ripple']!).toBeCloseTo(1, 3);
  expect(typicalResults(healthy)['filter.ripple']! / results['filter.ripple']!).toBeLessThan(0.1);
});

// First-order attenuation at 100 Hz: 1/sqrt(1 + (2 pi f R C)^2) of the fundamental (textbook).
it('an RC filter drops I x R and takes its share off the ripple', () => {
  const results = typicalResults(
    signalCabin({
      filter: {
        kind: 'rc',
        resistance: certain('r', 4.7),
        capacitance: certain('c', 4.7e-3),
        esr: certain('rc.esr', 0),
        load: drawing('filter', 0.3),
      },
      rails: [rail('logic', { from: 'filter' })],
    }),
  );
  expect(results['reservoir.volts']! - results['filter.volts']!).toBeCloseTo(0.555 * 4.7, 5);
  const share = 1 / Math.hypot(1, 2 * Math.PI * 100 * 4.7 * 4.7e-3);
  const left = results['filter.ripple']! / results['reservoir.ripple']!;
  expect(left).toBeLessThan(share);
  expect(left).toBeGreaterThan(0.6 * share);
});

it('a rail that cannot reach its set volts draws what its resistance draws at the volts that are left (Ohm)', () => {
  // The adjust pin's resistor as good as open; 2.2 A up to 15 V, 0.4 A at 40 V as LM317 datasheets print it.
  const currentLimit = [
    { difference: 15, amps: 2.2 },
    { difference: 40, amps: 0.4 },
  ];
  const lamps = rail('lamps', {
    regulator: { ...adjustableRegulator('lamps', 200_000), currentLimit },
    load: drawing('lamps', 0, 24),
  });
  const model = supplyModel(signalCabin({ rails: [lamps] }), 'typical');
  const { reservoir: node, lamps: figures, transformer } = partFigures(model);
  const volts = typicalResults(signalCabin({ rails: [lamps] }))['lamps.volts']!;
  expect(volts).toBeLessThan(node!['mean_V']! - 1);
  expect(volts).toBeGreaterThan(node!['mean_V']! - 4);
  expect(Math.abs(figures!['load_W']! / (volts ** 2 / 24) - 1)).toBeLessThan(0.03);
  // Far from the 2.2 A that a load at its set volts would ask for.
  expect(transformer!['input_W']!).toBeLessThan(2 * figures!['load_W']!);
});
