import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { editedDesign } from '../../../daemon/design/edit-design.js';
import { previewOf } from '../../../daemon/desk/preview.js';
import { loadDesign } from '../../../daemon/design/load.js';
import { predict } from '../../../daemon/predict/predict.js';
import type { DesignEdit, DesignPreview, FormField } from '../../../daemon/serve/design-messages.js';
import { CABIN } from './cabin-text.js';

function preview(text: string, edits: readonly DesignEdit[] = [], draws: 'quick' | 'full' = 'quick') {
  return previewOf({ text, edits, load: 'typical', draws }, 'cabin.design.yaml');
}

function pointOf({ prediction }: DesignPreview, id: string) {
  return prediction?.points.find((point) => point.id === id);
}

function field({ form }: DesignPreview, key: string): FormField | undefined {
  return form.flatMap(({ fields, more }) => [...fields, ...more]).find(({ path }) => path.join('.') === key);
}

describe('a preview', () => {
  it('follows R2: 1.25 V (1 + R2 / 240) and 50 uA through R2 (LM317 datasheet)', () => {
    const edits = [{ path: ['rails', 'lamps', 'r2'], value: 1500 }];
    const after = preview(CABIN, edits);
    expect(pointOf(after, 'lamps.volts')?.typical).toBeCloseTo(1.25 * (1 + 1500 / 240) + 50e-6 * 1500, 1);
    expect(after.problems).toEqual([]);
  });

  it('the full cloud is what a session predicts, to the digit', () => {
    const { points } = predict(loadDesign(CABIN, 'x'), { load: 'typical' });
    for (const point of preview(CABIN, [], 'full').prediction?.points ?? []) {
      expect(points[point.id]).toMatchObject({ low: point.low, typical: point.typical, high: point.high });
    }
  });

  it('the quick bands lie within a fifth of a width of the full ones', () => {
    const full = preview(CABIN, [], 'full');
    for (const point of preview(CABIN).prediction?.points ?? []) {
      const of = pointOf(full, point.id)!;
      const width = of.high - of.low;
      expect(Math.abs(point.low - of.low), point.id).toBeLessThanOrEqual(width / 5);
      expect(Math.abs(point.high - of.high), point.id).toBeLessThanOrEqual(width / 5);
    }
  });

  it('a cure of the advice, applied, ends what it is for', () => {
    const bare = preview(CABIN, [{ path: ['rails', 'logic', 'cooling', 'heatsink'], value: 'none' }]);
    const finding = bare.prediction?.advice.find(({ about }) => about === 'logic');
    expect(finding).toMatchObject({ finding: 'heatsink-missing', severity: 'destroys' });
    const cure = finding?.cures[0];
    expect(cure?.changes[0]).toMatchObject({ key: 'rails.logic.cooling.heatsink', before: 'none' });
    const cured = preview(bare.text, cure?.changes ?? []);
    expect(cured.problems).toEqual([]);
    expect(cured.prediction?.advice.filter(({ severity }) => severity === 'destroys')).toEqual([]);
  });

  it('a load that is one number becomes three when a cure changes one of them', () => {
    const text = CABIN.replace(
      /load: # amps\n +idle: 0.05\n +typical: 0.35\n +full: 0.5/,
      'load: 0.35 # amps',
    );
    const after = preview(text, [{ path: ['rails', 'lamps', 'load', 'full'], value: 0.5 }]);
    expect(after.text).toContain('load: { idle: 0.35, typical: 0.35, full: 0.5 } # amps');
    expect(after.problems).toEqual([]);
  });

  it('tells what is wrong at its key and line, without a prediction', () => {
    const after = preview(CABIN, [{ path: ['reservoir', 'capacity_uF'], value: -5 }]);
    expect(after.prediction).toBeNull();
    expect(after.problems).toMatchObject([{ key: 'reservoir.capacity_uF' }]);
    const line = after.text.split('\n').findIndex((one) => one.includes('capacity_uF: -5')) + 1;
    expect(after.problems[0]).toMatchObject({ line });
    expect(after.problems[0]?.words).toBe('found -5; a positive number of microfarads is allowed');
  });

  it.each(['', '[1, 2', 'just words', '- a\n- b\n', 'a: {b: [c}', '\u0000'])(
    'answers %j with problems, not with a failure',
    (text) => {
      const after = preview(text, [{ path: ['mains', 'volts'], value: 230 }]);
      expect(after.problems.length).toBeGreaterThan(0);
      expect(after.prediction).toBeNull();
    },
  );
});

describe('the form', () => {
  const before = preview(CABIN);

  it('has each value with its unit, and what is taken while nothing is written', () => {
    expect(field(before, 'rails.lamps.r2')).toMatchObject({ value: 2050, unit: 'Ω', kind: 'number' });
    expect(field(before, 'rails.lamps.resistor_tolerance_percent')).toMatchObject({
      value: null,
      assumed: '1',
    });
    expect(field(before, 'rails.lamps.from')).toMatchObject({ value: null, assumed: 'reservoir' });
    expect(field(before, 'reservoir.capacity_uF')).toMatchObject({ unit: 'µF' });
  });

  it('has resistors for adjustable regulators only', () => {
    expect(field(before, 'rails.logic.r1')).toBeUndefined();
    const after = preview(CABIN, [{ path: ['rails', 'logic', 'regulator'], value: 'LM317' }]);
    expect(field(after, 'rails.logic.r1')).toMatchObject({ value: null });
    expect(after.problems.map(({ key }) => key)).toContain('rails.logic.r1');
  });

  it('follows a regulator that is no part of the library', () => {
    const choices = field(before, 'rails.logic.regulator')?.choices ?? [];
    for (const { value } of choices.filter(({ value: one }) => typeof one === 'object')) {
      const after = preview(CABIN, [{ path: ['rails', 'logic', 'regulator'], value }]);
      expect(after.problems.filter(({ key }) => key.startsWith('rails.logic.regulator'))).toEqual([]);
      expect(
        after.form.some(({ fields }) =>
          fields.some(({ path }) => path[2] === 'regulator' && path.length > 3),
        ),
      ).toBe(true);
    }
  });

  it('writes a default out when a part of it is changed', () => {
    const text = CABIN.replace(/ {2}ambient:[^]*?highest: 35\n/, '');
    const after = preview(text, [{ path: ['mains', 'ambient', 'highest'], value: 40 }]);
    expect(after.text).toContain('  ambient: { typical: 22, highest: 40 }');
    expect(after.problems).toEqual([]);
  });

  it('every choice of every field can be written, and reads back as it was chosen', () => {
    for (const { path, choices } of before.form.flatMap(({ fields, more }) => [...fields, ...more])) {
      for (const { value } of choices.filter(({ value: one }) => typeof one !== 'object')) {
        const read: unknown = path.reduce<unknown>(
          (inner, key) => (inner as Record<string, unknown>)[key],
          parse(editedDesign(CABIN, [{ path, value }])),
        );
        expect(read).toBe(value);
      }
    }
  });
});
