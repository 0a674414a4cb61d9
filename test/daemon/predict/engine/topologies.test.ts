import { describe, expect, it } from 'vitest';
import type { Design, LoadState } from '../../../../daemon/design/design.js';
import { testPointsOf } from '../../../../daemon/design/test-points.js';
import { describeDesign } from '../../../../daemon/predict/engine/description.js';
import { supplyModel } from '../../../../daemon/predict/engine/model.js';
import type { Change } from '../../design/signal-cabin.js';
import { example } from '../../design/topologies.js';

const NAMES = ['signal-cabin', 'level-crossing', 'turntable', 'goods-crane'];

/** Every test point of a design with each number as written. */
function worked(design: Design, load: LoadState, measured = {}): (id: string) => number {
  const model = supplyModel(describeDesign(design, measured), load);
  const values = new Float64Array(model.outputs.length);
  model.evaluate(model.typicalDraw(), values);
  return (id) => {
    const value = values[model.outputs.indexOf(id)];
    if (value === undefined) throw new Error(`the model has no ${id}; it has ${model.outputs.join(', ')}`);
    return value;
  };
}

describe.each(NAMES)('%s', (name) => {
  const design = example(name);

  it('every test point of the design has a value', () => {
    const { outputs } = supplyModel(describeDesign(design), 'typical');
    expect(testPointsOf(design).filter((id) => !outputs.includes(id))).toEqual([]);
  });

  // LM317 and 78xx datasheets: junction at most 125 degrees C in operation.
  it('stays cool at full load on the highest mains in the hottest air', () => {
    const at = worked(design, 'full', { mainsVolts: 253, ambient: 35 });
    for (const rail of Object.keys(design.rails)) expect(at(`${rail}.junction`), rail).toBeLessThan(125);
  });

  it('holds its rails at full load on the lowest mains', () => {
    const at = worked(design, 'full', { mainsVolts: 207 });
    for (const rail of Object.keys(design.rails)) expect(at(`${rail}.headroom`), rail).toBeGreaterThan(1);
  });
});

describe('split rails', () => {
  const at = worked(example('turntable'), 'full');

  // VO = Vref (1 + R2/R1) + Iadj R2 (TI SLVS044Z), by hand: 1.25 x 11.875 + 50 uA x 2610 = 14.974 V.
  it('are set alike, with their signs', () => {
    expect(at('plus.volts')).toBeCloseTo(14.974, 3);
    expect(at('minus.volts')).toBeCloseTo(-14.974, 3);
    // Currents count as settled at a millionth.
    expect(at('negative-reservoir.volts') / at('reservoir.volts')).toBeCloseTo(-1, 6);
  });

  // 18 V x 1.13 x sqrt 2 less one diode is 28 V unloaded; loaded it lies below, above 18 V x sqrt 2 less a volt and sag.
  it('stand below the unloaded peak of one half', () => {
    expect(at('reservoir.peak')).toBeLessThan(18 * 1.13 * Math.SQRT2 - 0.6);
    expect(at('reservoir.volts')).toBeGreaterThan(18 * Math.SQRT2 - 2);
  });

  // Textbook: ripple is a little under I / (2 f C); both polarities are charged twice a cycle.
  it('ripple at twice the mains frequency', () => {
    const most = (0.2 + 1.25 / 240) / (2 * 50 * 2200e-6);
    expect(at('reservoir.ripple')).toBeLessThan(most);
    expect(at('reservoir.ripple')).toBeGreaterThan(0.6 * most);
  });

  it('share the primary: loading one polarity lowers the other', () => {
    const light: Change = [
      '    load: { idle: 0.03, typical: 0.12, full: 0.2 }\n    damage: { high: 18 } # without the sign',
      '    load: 0.01\n    damage: { high: 18 } # without the sign',
    ];
    const one = worked(example('turntable', light), 'full');
    expect(one('reservoir.volts')).toBeGreaterThan(at('reservoir.volts') + 0.1);
    expect(-one('negative-reservoir.volts')).toBeGreaterThan(one('reservoir.volts'));
  });

  it('a negative reservoir that is left out is like the other', () => {
    const without: Change = [
      'negative_reservoir: { capacity_uF: 2200, working_volts: 50, bleed: 4700 }',
      '# left out',
    ];
    const same = worked(example('turntable', without), 'full');
    expect(same('negative-reservoir.volts')).toBeCloseTo(at('negative-reservoir.volts'), 9);
  });
});

describe('behind a capacitance multiplier', () => {
  const at = worked(example('goods-crane'), 'full');

  // Base-emitter of a Darlington 1.4 V and base current times R: 3.01 A / 1501 x 680 ohm = 1.36 V (common practice).
  it('the drop is the base-emitter and base-resistor volts', () => {
    expect(at('reservoir.volts') - at('filter.volts')).toBeCloseTo(1.4 + 1.36, 1);
  });

  // First-order law 1 / sqrt(1 + (2 pi f R C)^2): 680 ohm and 470 uF at 100 Hz leave 0.5 % of the fundamental,
  // which is most of a sawtooth's height; higher ones leave less.
  it('the ripple is what the first-order law leaves', () => {
    const left = 1 / Math.hypot(1, 2 * Math.PI * 100 * 680 * 470e-6);
    const share = at('filter.ripple') / at('reservoir.ripple');
    expect(share).toBeLessThan(left);
    expect(share).toBeGreaterThan(0.6 * left);
  });

  // Case less watts times the interface (AN1040: TO-3 under greased mica 0.36, TO-247 taken as a greased TO-220, 1.0).
  it('both parts sit on the same heatsink', () => {
    const under = (place: string, interfaceOhms: number) =>
      at(`${place}.case`) - at(`${place}.dissipation`) * interfaceOhms;
    expect(under('filter', 1)).toBeCloseTo(under('crane', 0.36), 6);
  });

  // Catalogues give 0.5 to 1 K/W for finned blocks of 150 by 200 by 40 mm (from memory).
  it('a block of that size comes to less than a kelvin per watt', () => {
    const watts = at('filter.dissipation') + at('crane.dissipation');
    const rise = at('filter.case') - at('filter.dissipation') - (22 + 5);
    expect(rise / watts).toBeGreaterThan(0.4);
    expect(rise / watts).toBeLessThan(1.2);
  });
});

describe('other feeds and regulators', () => {
  const REGULATOR = `    regulator: '7805'
    from: barriers # not from the reservoir
    cooling: { heatsink: 15 }
`;
  const flasher = (text: string) => example('level-crossing', [REGULATOR, text]);

  // Definition of efficiency, output over all that goes in: (1 / 0.8 - 1) x 5 V x 0.2 A is 0.25 W. With 20 mA drawn
  // that would be 25 mW, less than the 12 V x 10 mA that it takes with nothing connected: 0.12 W.
  it('a switching module draws its power, not its current', () => {
    const module =
      '    regulator: { kind: switching, volts: 5, minimum_input: 7, efficiency: [[0.1, 80], [1, 80]] }\n    from: barriers\n';
    const at = worked(flasher(module), 'full');
    expect(at('flasher.volts')).toBeCloseTo(5, 6);
    expect(at('flasher.dissipation')).toBeCloseTo(0.25, 3);
    const light: Change = ['idle: 0.03, typical: 0.1, full: 0.2', 'idle: 0, typical: 0, full: 0.02'];
    const nearlyIdle = worked(example('level-crossing', [REGULATOR, module], light), 'full');
    expect(nearlyIdle('flasher.dissipation')).toBeCloseTo(0.12, 3);
  });

  // Ohm's law: base = (12 x 10 + (5.6 - 5 mA x 10) x 470 - Ib x 4700) / 480 with Ib = 0.2 / 101 is 5.665 V; less 0.7 V.
  it('a zener follower', () => {
    const zener =
      '    regulator: { kind: zener, zener_volts: 5.6, resistor: 470 }\n    from: barriers\n    cooling: { heatsink: 15 }\n';
    expect(worked(flasher(zener), 'full')('flasher.volts')).toBeCloseTo(5.665 - 0.7, 2);
  });

  it('given volts have no heat', () => {
    const design = flasher('    regulator: { kind: given, volts: 5, dropout: 1 }\n    from: barriers\n');
    expect(worked(design, 'full')('flasher.volts')).toBe(5);
    expect(() => worked(design, 'full')('flasher.case')).toThrow(/has no flasher\.case/);
    expect(testPointsOf(design)).not.toContain('flasher.case');
  });

  // Ohm's law: 0.81 A through 2 ohm.
  it('a resistor and a capacitor', () => {
    const rc: Change = ['rails:\n', 'filter: { kind: rc, resistor: 2, capacity_uF: 4700 }\nrails:\n'];
    const from: Change = ["regulator: '7812'", "regulator: '7812'\n    from: filter"];
    const at = worked(example('level-crossing', rc, from), 'full');
    expect(at('reservoir.volts') - at('filter.volts')).toBeCloseTo(0.81 * 2, 2);
    expect(at('filter.ripple')).toBeLessThan(at('reservoir.ripple') / 2);
  });

  // 19 V less 12 V leaves 7 V; 0.81 A through 3 ohm takes 2.43 V of them from the regulator: 1.97 W.
  it('a resistor before the regulator takes some of its heat', () => {
    const plain = worked(example('level-crossing'), 'full')('barriers.dissipation');
    const series: Change = ["regulator: '7812'", "regulator: '7812'\n    series: { ohms: 3, watts: 5 }"];
    const eased = worked(example('level-crossing', series), 'full')('barriers.dissipation');
    expect(plain - eased).toBeCloseTo(0.81 ** 2 * 3, 1);
  });

  it('a load straight on the reservoir pulls it down', () => {
    const load: Change = ['bleed: 2200 }', 'bleed: 2200, load: { ohms: 60 } }'];
    const at = worked(example('level-crossing', load), 'full');
    expect(at('reservoir.volts')).toBeLessThan(
      worked(example('level-crossing'), 'full')('reservoir.volts') - 0.3,
    );
  });

  it('a written drop of the diodes moves the reservoir by about two of the difference', () => {
    const drop = (volts: number): Change => ['diode: 1N5401 }', `diode: 1N5401, drop: ${volts} }`];
    const low = worked(example('level-crossing', drop(0.6)), 'full');
    const high = worked(example('level-crossing', drop(0.9)), 'full');
    expect(low('reservoir.volts') - high('reservoir.volts')).toBeCloseTo(0.6, 1);
  });

  it("the user's own package lies on its heatsink as the one that it is like", () => {
    const mount = describeDesign(example('goods-crane')).rails[0]?.cooling.mounting;
    expect(mount?.interface.typical).toBe(0.36);
    expect(mount?.heatsink).toBe('back-wall');
  });
});
