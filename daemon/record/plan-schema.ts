import { z } from 'zod';
import { LOAD_STATES } from '../design/design-load.js';
import type { PointUnit } from '../predict/prediction.js';
import { procedureSchema } from './procedure-schema.js';

const text = z.string();
const number = z.number();
const figures = z.record(text, number);
export const spreadSchema = z.object({ low: number, typical: number, high: number });
const UNITS: Readonly<Record<PointUnit, true>> = {
  V: true,
  Vrms: true,
  Vpp: true,
  A: true,
  Arms: true,
  ohm: true,
  degC: true,
  Hz: true,
  W: true,
};
const load = z.literal(LOAD_STATES);

export const unitSchema = z.literal(Object.keys(UNITS) as PointUnit[]);
export const bandSchema = spreadSchema.extend({ coldest: number.optional() });

const point = z.looseObject({
  ...bandSchema.shape,
  id: text,
  label: text,
  unit: unitSchema,
  nominal: number,
  worst: z.object({ low: number, high: number }).optional(),
  widthFrom: z.array(z.object({ from: text, share: number })).optional(),
  limits: z.array(
    z.object({ kind: z.enum(['damage', 'rating']), side: z.enum(['high', 'low']), value: number, why: text }),
  ),
  formula: text,
});

const change = z.object({ key: text, value: z.union([number, text, figures]) });
const advice = z.looseObject({
  finding: text,
  about: text,
  severity: text,
  sentence: text,
  numbers: figures,
  reason: text,
  cure: text,
  cures: z.array(z.looseObject({ words: text, changes: z.array(change), worsens: z.array(text) })).optional(),
});

const prediction = z.looseObject({
  points: z.record(text, point),
  parts: z.record(text, figures).optional(),
  advice: z.array(advice).optional(),
  assumed: z.array(z.object({ key: text, value: z.union([number, text]), because: text })).optional(),
  load: load.optional(),
  seed: number.optional(),
});

const range = { percent: number, counts: number.optional(), resolution: number.optional() };
const accuracy = z.looseObject({
  ...range,
  ranges: z.array(z.looseObject({ up_to: number, ...range })).optional(),
});

const supply = z.looseObject({
  rippleRate: z.enum(['mains', 'twice-mains']),
  rails: z.array(
    z.looseObject({
      name: text,
      from: text,
      polarity: z.enum(['positive', 'negative']),
      dropoutVolts: number.nullable(),
      switches: z.boolean(),
    }),
  ),
});

/** The plan as it stands in a header. What an earlier version didn't write may be missing; what is there is right. */
export const planSchema = z.looseObject({
  prediction,
  channels: z.array(
    z.looseObject({
      instrument: text,
      channel: text,
      intervalMs: number,
      accuracy: accuracy.optional(),
      typed: z.literal(true).optional(),
    }),
  ),
  loads: z.record(load, z.record(text, spreadSchema)).optional(),
  procedure: procedureSchema.optional(),
  supply: supply.optional(),
  cutOffs: z
    .array(z.looseObject({ output: text, on: z.array(text), at: z.array(text).nullable() }))
    .optional(),
});
