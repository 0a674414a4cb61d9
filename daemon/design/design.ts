import { z } from 'zod';
import { group, name, numberOf, text } from './allowed.js';
import { heatsinksSchema } from './design-cooling.js';
import { filterSchema } from './design-filter.js';
import { partsSchema } from './design-parts.js';
import { railSchema } from './design-rail.js';
import { mainsSchema, rectifierSchema, reservoirSchema, transformerSchema } from './design-source.js';

export { LOAD_STATES, type LoadState } from './design-load.js';

const pointSchema = group('a test point with label or limit', {
  label: text('a label').optional(),
  limit: group('a limit with low or high', {
    low: numberOf("the point's unit").optional(),
    high: numberOf("the point's unit").optional(),
  }).optional(),
});

function fromOneToTwenty(rails: object): boolean {
  const count = Object.keys(rails).length;
  return count >= 1 && count <= 20;
}

/** What a supply is made of and what it feeds, as a person writes it in `*.design.yaml`. */
export const designSchema = group('a design with mains, transformer, rectifier, reservoir and rails', {
  design: text('a name for the supply').describe('what this supply is called'),
  mains: mainsSchema,
  transformer: transformerSchema,
  rectifier: rectifierSchema,
  reservoir: reservoirSchema,
  negative_reservoir: reservoirSchema
    .optional()
    .describe('behind a split bridge; left out, it is like the reservoir (without a load of its own)'),
  filter: filterSchema.optional(),
  heatsinks: heatsinksSchema.optional(),
  parts: partsSchema.optional(),
  rails: z
    .record(name, railSchema, { error: 'a group of named rails' })
    .refine(fromOneToTwenty, { error: 'one to twenty rails' }),
  points: z
    .record(z.string(), pointSchema, { error: 'a group of test point ids' })
    .default({})
    .describe('renames or limits single test points'),
  defaulted: z
    .array(z.string())
    .optional()
    .describe('keys that took their default: noted on loading, refused in a file'),
});

/** A design with every default filled in. */
export type Design = z.output<typeof designSchema>;
export type { Rail } from './design-rail.js';
export type RectifierKind = Design['rectifier']['kind'];
