import { z } from 'zod';
import { between, counting, group, name, partName, positive } from './allowed.js';

const FINISHES = ['bare', 'anodised', 'painted'] as const;
const STANDS = ['upright', 'flat'] as const;

const MEASURES = {
  length_mm: positive('millimetres').describe('along the fins; upright: its height'),
  width_mm: positive('millimetres').describe('across the fins'),
  height_mm: positive('millimetres').describe(
    'from its back to the tips of the fins; of a plate, how thick it is',
  ),
  fins: between(0, 200, 'fins')
    .int({ error: 'a whole number of fins' })
    .default(0)
    .describe('how many; 0 for a plate'),
  base_mm: positive('millimetres').default(3).describe('thickness of the base under the fins'),
  fin_mm: positive('millimetres').default(1.5).describe('thickness of one fin'),
  finish: z.enum(FINISHES, { error: FINISHES.join(', ') }).default('bare'),
  stands: z
    .enum(STANDS, { error: STANDS.join(' or ') })
    .default('upright')
    .describe('upright: air can rise along the fins; flat: it lies on its back'),
};

const sizeSchema = group('its measures length_mm, width_mm and height_mm', MEASURES);

const SINK_ERROR = 'a positive number of K/W, or none for a bare package,';
const SHARED_ERROR = 'a positive number of K/W, to_air with heat_capacity, or its measures,';

export const coolingSchema = group('cooling with heatsink', {
  package: partName('the name of a package, TO-220 for example').default('TO-220'),
  interface: partName('the name of an interface, greased for example')
    .default('greased')
    .describe('what is between package and heatsink'),
  heatsink: z
    .union(
      [
        z.literal('none'),
        counting('K/W', z.number().positive({ error: SINK_ERROR })),
        sizeSchema,
        z.string().min(1).max(40),
      ],
      {
        error: SINK_ERROR,
      },
    )
    .describe('heatsink to air in K/W, or none for a bare package'),
  heat_capacity: positive('J/K').optional().describe('heat capacity of the heatsink, J/K'),
});

/** A bare package, for a follower that a design leaves without a word on cooling. */
export const BARE = { package: 'TO-220', interface: 'greased', heatsink: 'none' } as const;
/** A switching module as it comes. */
export const BARE_MODULE = { ...BARE, package: 'module' } as const;

const toAir = counting('K/W', z.number().positive({ error: SHARED_ERROR }));

/** Heatsinks that several parts sit on, by name. */
export const heatsinksSchema = z
  .record(
    name,
    z.union(
      [
        toAir,
        group('to_air', { to_air: positive('K/W'), heat_capacity: positive('J/K').optional() }),
        sizeSchema,
      ],
      { error: SHARED_ERROR },
    ),
    { error: 'a group of named heatsinks' },
  )
  .describe('heatsinks that several parts share: K/W to air, or measures');

export type Cooling = z.output<typeof coolingSchema>;
export type SharedHeatsink = z.output<typeof heatsinksSchema>[string];
export type HeatsinkMeasures = z.output<typeof sizeSchema>;
