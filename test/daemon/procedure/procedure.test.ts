import { describe, expect, it } from 'vitest';
import type { Design } from '../../../daemon/design/design.js';
import { procedureOf, stepsOf } from '../../../daemon/procedure/procedure.js';
import type { ProcedureOptions } from '../../../daemon/procedure/step-maker.js';
import { suggestedLamp } from '../../../daemon/procedure/lamp.js';
import type { Step } from '../../../daemon/procedure/step.js';
import { example } from '../design/topologies.js';

const EXAMPLES = ['signal-cabin', 'turntable', 'goods-crane', 'level-crossing'] as const;

function options(design: Design, changes: Partial<ProcedureOptions> = {}): ProcedureOptions {
  return {
    load: 'typical',
    lamp: suggestedLamp(design),
    hasCutOff: false,
    canMeasure: () => true,
    ...changes,
  };
}

function steps(name: string, changes: Partial<ProcedureOptions> = {}): Step[] {
  const design = example(name);
  return stepsOf(design, options(design, changes));
}

const ids = (list: readonly Step[]): string[] => list.map(({ id }) => id);
const named = (list: readonly Step[], id: string): Step => {
  const step = list.find((one) => one.id === id);
  if (step === undefined) throw new Error(`no step ${id}`);
  return step;
};

describe('the steps of a power-up', () => {
  it('come in the order in which least can be lost, the real loads last (common practice)', () => {
    expect(ids(steps('signal-cabin'))).toEqual([
      ...['cold-checks', 'lamp-limiter', 'transformer', 'raw', 'rails', 'dummy-load', 'soak'],
      ...['real-load-lamps', 'real-load-logic', 'lid', 'sign-off'],
    ]);
  });

  it('leave out a rail without a module, a lid that isn’t there, a lamp that isn’t wanted', () => {
    const bare = example(
      'signal-cabin',
      ['  enclosure_rise: 5', '  enclosure_rise: 0'],
      ['    load:\n      idle: 0.08\n      typical: 0.2\n      full: 0.28', '    load: 0'],
    );
    const found = stepsOf(bare, options(bare, { lamp: null }));
    expect(ids(found)).toEqual([
      ...['cold-checks', 'transformer', 'raw', 'rails', 'dummy-load', 'soak', 'real-load-lamps', 'sign-off'],
    ]);
    expect(found.every(({ feeding }) => feeding !== 'behind-lamp')).toBe(true);
  });

  it('try a cut-off that is armed while nothing hangs on the transformer yet', () => {
    const found = ids(steps('signal-cabin', { hasCutOff: true }));
    expect(found.indexOf('cut-off')).toBe(found.indexOf('transformer') + 1);
  });

  it.each(EXAMPLES)('of the %s say what to do, what to mind and what must not be connected', (name) => {
    for (const { actions, notYet, kind, whenWrong, id } of steps(name)) {
      expect(actions.length, id).toBeGreaterThan(0);
      expect(
        actions.some(({ caution }) => caution !== null),
        id,
      ).toBe(true);
      const isLate = ['real-load', 'lid', 'sign-off'].includes(kind);
      if (!isLate) expect(notYet.join(), id).toMatch(/module/);
      if (kind !== 'sign-off') expect(whenWrong.length, id).toBeGreaterThan(0);
    }
  });

  it.each(EXAMPLES)('of the %s expect something of every point that they ask for', (name) => {
    for (const step of steps(name)) {
      for (const { point } of step.points) {
        const { low, typical, high } = step.bands[point] ?? { low: NaN, typical: NaN, high: NaN };
        expect(low, `${step.id} ${point}`).toBeLessThanOrEqual(typical);
        expect(typical, `${step.id} ${point}`).toBeLessThanOrEqual(high);
      }
    }
  });

  it('take the lamp out once, before the first step on the bare mains', () => {
    const out = steps('turntable').filter(({ actions }) =>
      actions.some(({ words }) => words.startsWith('Take the lamp limiter out')),
    );
    expect(ids(out)).toEqual(['dummy-load']);
  });

  it('go over to typed answers for volts that no instrument of the bench reads', () => {
    const found = steps('signal-cabin', { canMeasure: () => false });
    const raw = named(found, 'raw');
    expect(raw.points).toEqual([]);
    expect(raw.checks.map(({ id }) => id)).toContain('reservoir.volts');
    expect(named(found, 'soak').checks.map(({ id }) => id)).toContain('smell');
  });

  it('say before a hand goes in how long the reservoir needs: R C ln (peak / 1 V), textbook', () => {
    // 4700 ohm x 4700 uF x 1.2 x ln(24.9 V): 18.48 V x sqrt 2 less two diodes' 1.2 V.
    const seconds = 4700 * 4700e-6 * 1.2 * Math.log(18.48 * Math.SQRT2 - 1.2);
    const design = example('signal-cabin');
    const { afterAbort } = procedureOf(design, options(design));
    const said = Number(/wait (\d+) s/.exec(afterAbort.join(' '))?.[1]);
    expect(said).toBeGreaterThanOrEqual(seconds);
    expect(said).toBeLessThan(seconds + 6);
  });

  it('never tell to wait for a reservoir that has no bleed resistor', () => {
    const design = example('signal-cabin', ['  bleed: 4700', '  #']);
    const { afterAbort } = procedureOf(design, options(design));
    expect(afterAbort.join(' ')).toMatch(/through a resistor.*no bleed resistor/);
  });
});

describe('what is expected in each state', () => {
  it('of a raw supply with next to no load: the peak of the unloaded winding, ripple of a bleed resistor', () => {
    // 15 V x 1.12 x sqrt 2 less two diodes at milliamps (0.5 to 0.65 V each, datasheets): 22.5 to 22.8 V; textbook.
    const { 'reservoir.volts': volts, 'reservoir.ripple': ripple } = named(
      steps('signal-cabin', { lamp: null }),
      'raw',
    ).bands;
    expect(volts?.typical).toBeGreaterThan(15 * 1.12 * Math.SQRT2 - 1.8);
    expect(volts?.typical).toBeLessThan(15 * 1.12 * Math.SQRT2 - 1);
    // I / (2 f C) with 4.7 mA: 10 mV (textbook sawtooth).
    expect(ripple?.typical).toBeGreaterThan(0.006);
    expect(ripple?.typical).toBeLessThan(0.012);
  });

  it('of what isn’t connected yet: nothing, and the air’s temperature', () => {
    const { bands } = named(steps('signal-cabin'), 'raw');
    expect(bands['logic.volts']).toMatchObject({ typical: 0 });
    expect(bands['logic.case']).toEqual(bands['ambient.air']);
  });

  it('of rails without load: held, since the regulators that want one get their minimum load', () => {
    // LM317: 10 mA at most (datasheet); 1.25 V / 240 ohm go through the divider, so 12 V / 4.8 mA is the most.
    const rails = named(steps('signal-cabin'), 'rails');
    const ohms = Number(
      /Put ([\d.]+) ohm.*on lamps/.exec(rails.actions.map(({ words }) => words).join())?.[1],
    );
    expect(ohms).toBeLessThanOrEqual(12.03 / (0.01 - 1.25 / 240));
    expect(ohms).toBeGreaterThan(1000);
    expect(rails.bands['lamps.volts']?.high).toBeLessThan(13);
  });

  it('of a dummy load: ohms of the load at full amps, rated for twice its heat (common practice)', () => {
    const words = named(steps('signal-cabin'), 'dummy-load').actions.map(({ words: one }) => one);
    // 12 V / 0.5 A = 24 ohm, E12 neighbours 22 and 27; 12 V squared / 22 ohm = 6.5 W, so 15 W.
    expect(words.join()).toMatch(/22 ohm, 15 W or more on lamps/);
    expect(words.join()).toMatch(/18 ohm, 3 W or more on logic/);
  });

  it('of negative rails: their sign', () => {
    const { bands, points } = named(steps('turntable'), 'rails');
    expect(bands['minus.volts']?.typical).toBeCloseTo(-15, 0);
    expect(bands['negative-reservoir.volts']?.high).toBeLessThan(-20);
    expect(points.map(({ point }) => point)).toContain('minus.volts');
  });

  it('of the real loads one after the other: what isn’t connected yet keeps its dummy load', () => {
    const found = steps('signal-cabin', { load: 'typical' });
    const [first, both] = [named(found, 'real-load-lamps'), named(found, 'real-load-logic')];
    expect(first.notYet.join()).toMatch(/logic/);
    expect(both.notYet).toEqual([]);
    // Typical loads draw less than the dummies, so the reservoir rises with each.
    const volts = (step: Step) => step.bands['reservoir.volts']?.typical ?? NaN;
    expect(volts(first)).toBeGreaterThan(volts(named(found, 'soak')));
    expect(volts(both)).toBeGreaterThan(volts(first));
  });

  it('of a closed lid: the enclosure’s rise on top of every case', () => {
    const found = steps('signal-cabin');
    const rise =
      (named(found, 'lid').bands['logic.case']?.typical ?? NaN) -
      (named(found, 'real-load-logic').bands['logic.case']?.typical ?? NaN);
    expect(rise).toBeGreaterThan(4);
    expect(rise).toBeLessThan(6);
  });

  it('of a switching module, volts as given, a zener follower and a cascade: something that is a number', () => {
    const other = (regulator: string) =>
      example(
        'signal-cabin',
        ['    regulator: 7805', `    regulator: ${regulator}`],
        ['  logic.case:\n    label: logic regulator tab', '  logic.volts: { label: logic }'],
      );
    for (const regulator of [
      '{ kind: switching, volts: 5, efficiency: [[0.3, 85]], minimum_input: 8 }',
      '{ kind: given, volts: 5, dropout: 1 }',
      '{ kind: zener, zener_volts: 5.6, resistor: 470 }',
    ]) {
      const design = other(regulator);
      const soak = named(stepsOf(design, options(design)), 'soak');
      expect(soak.bands['logic.volts']?.typical, regulator).toBeCloseTo(5, 0);
    }
    expect(named(steps('level-crossing'), 'soak').bands['flasher.volts']?.typical).toBeCloseTo(5, 1);
  });
});
