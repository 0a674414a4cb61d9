import { z } from 'zod';

const text = z.string();
const texts = z.array(text);
const maybeText = text.nullable();
const band = z.object({
  low: z.number(),
  typical: z.number(),
  high: z.number(),
  coldest: z.number().optional(),
});
const check = z.looseObject({
  id: text,
  ask: text,
  caution: maybeText,
  number: z.object({ unit: text, low: z.number().nullable(), high: z.number().nullable() }).nullable(),
  waiver: maybeText,
  vital: z.boolean(),
  reason: text,
  whenWrong: text,
});

/** The power-up as it stands in a header. */
export const procedureSchema = z.looseObject({
  steps: z.array(
    z.looseObject({
      id: text,
      kind: text,
      title: text,
      feeding: z.enum(['unplugged', 'behind-lamp', 'mains']),
      load: text,
      gate: z.enum(['answered', 'measured', 'soaked', 'signed']),
      fromDead: z.boolean(),
      actions: z.array(z.object({ words: text, caution: maybeText })),
      notYet: texts,
      checks: z.array(check),
      points: z.array(z.object({ point: text, label: text, unit: text })),
      bands: z.record(text, band),
      whenWrong: texts,
    }),
  ),
  afterAbort: texts,
});

const ofStep = { atMs: z.number(), step: text };

/** What a person did in it. */
export const stepSchema = z.discriminatedUnion('action', [
  z.object({ ...ofStep, action: z.literal('begin') }),
  z.object({
    ...ofStep,
    action: z.literal('answer'),
    check: text,
    answer: z.union([z.number(), z.enum(['yes', 'no', 'open', 'waived'])]),
  }),
  z.object({ ...ofStep, action: z.literal('override'), reason: text }),
  z.object({ ...ofStep, action: z.literal('back') }),
  z.object({ ...ofStep, action: z.literal('abort'), reason: text }),
  z.object({ ...ofStep, action: z.literal('sign'), name: text }),
]);
