import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { loadDesign } from '../../../daemon/design/load.js';
import {
  designText,
  r2For,
  suggestedHeatsink,
  suggestedRegulator,
  type NewDesign,
} from '../../../daemon/design/new-design.js';
import { newDesignQuestions } from '../../../daemon/design/new-questions.js';
import { regulatorNamed } from '../../../daemon/design/parts/regulators.js';
import { E96 } from '../../../daemon/design/parts/series.js';
import { predict } from '../../../daemon/predict/predict.js';

const SOURCE = { mains: 230, volts: 15, va: 30, capacity_uF: 4700 } as const;

/** Answers one by one, then Enter alone. */
function answer(...typed: string[]): NewDesign {
  const questions = newDesignQuestions();
  let step = questions.next('');
  for (let asked = 0; step.done !== true; asked += 1) {
    if (asked > 500) throw new Error(`it never stops asking: ${step.value.text}`);
    step = questions.next(typed[asked] ?? '');
  }
  return step.value;
}

describe('what is suggested', () => {
  // Trade facts: a 78xx where one fits; LM317 to 1.5 A, LM350 to 3 A, LM338 to 5 A.
  it.each([
    [5, 0.2, '7805'],
    [12, 0.5, '7812'],
    [9.6, 0.5, 'LM317'],
    [5, 1.4, 'LM317'],
    [13.8, 3, 'LM350'],
    [13.8, 5, 'LM338'],
  ])('%d V at %d A: %s', (volts, amps, regulator) => {
    expect(suggestedRegulator(volts, amps, SOURCE)).toBe(regulator);
  });

  // (12 - 1.25) / (1.25 / 240 + 50 uA) = 2044.4 ohm by hand; the next in E96 (IEC 60063) is 2050.
  it('R2 for 12 V is 2050 ohm', () => {
    expect(r2For(12, regulatorNamed('LM317'))).toBe(2050);
  });

  // A TO-220 without a heatsink bears a watt at best; ten times the heat wants a heatsink of a few K/W (common practice).
  it('a heatsink that grows with the heat', () => {
    expect(suggestedHeatsink(12, 0.05, SOURCE)).toBe('none');
    expect(suggestedHeatsink(12, 0.3, SOURCE)).toBeGreaterThan(4);
    expect(suggestedHeatsink(5, 0.4, SOURCE)).toBeLessThan(6);
  });
});

describe('the file that is written', () => {
  it('Enter alone gives a supply that loads and predicts without advice that destroys', () => {
    const design = loadDesign(designText(answer()), 'new.design.yaml');
    expect(design.rails).toMatchObject({ 'rail-1': { regulator: '7805', load: { full: 0.2 } } });
    const { advice } = predict(design, { load: 'full' });
    expect(advice.filter(({ severity }) => severity === 'destroys')).toEqual([]);
  });

  it.each(["it's: #odd", '"quoted"', '- list', '{ a: b }', '*alias', 'yes', '0x10', '水路'])(
    'the name %s stays',
    (name) => {
      expect(loadDesign(designText(answer(name)), 'new.design.yaml').design).toBe(name);
    },
  );

  it('mains of 120 V goes with 60 Hz and ANSI C84.1', () => {
    expect(loadDesign(designText(answer('x', '120')), 'new.design.yaml').mains).toMatchObject({
      volts: 120,
      hertz: 60,
      tolerance: 'ANSI C84.1',
    });
  });

  it('loads whatever is typed, and says the same as the answers (seed 11)', () => {
    const typed = fc.oneof(
      fc.constantFrom('', 'none', 'LM317', '120', '1N4007', '-1', '3,3', '1e3', 'NaN'),
      fc.double({ min: 0, max: 80, noNaN: true }).map((value) => value.toPrecision(3)),
      fc.string({ maxLength: 12 }),
    );
    fc.assert(
      fc.property(fc.array(typed, { maxLength: 60 }), (lines) => {
        const answers = answer(...lines);
        const design = loadDesign(designText(answers), 'new.design.yaml');
        expect(design.design).toBe(answers.name);
        expect(Object.keys(design.rails)).toEqual(answers.rails.map(({ name }) => name));
        for (const { name, regulator, full, idle, heatsink } of answers.rails) {
          expect(design.rails[name]).toMatchObject({
            regulator,
            load: { idle, full },
            cooling: { heatsink },
          });
        }
      }),
      { seed: 11, numRuns: 150 },
    );
  });

  it('writes R2 from E96, so that it can be bought', () => {
    const design = loadDesign(designText(answer('x', '', '', '', '', '', '', '9.6')), 'new.design.yaml');
    const r2 = design.rails['rail-1']?.r2 ?? 0;
    expect(E96).toContain(Number((r2 / 10 ** Math.floor(Math.log10(r2))).toPrecision(3)));
  });
});
