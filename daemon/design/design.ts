import { z } from 'zod';
import { between, group, name, notNegative, numberOf, partName, positive, text } from './allowed.js';

export const LOAD_STATES = ['idle', 'typical', 'full'] as const;
export type LoadState = (typeof LOAD_STATES)[number];

const mainsSchema = group('mains with volts and hertz', {
  volts: positive('volts RMS').describe('RMS volts of the mains the transformer is made for'),
  hertz: z.literal([50, 60], { error: '50 or 60 (hertz)' }).describe('mains frequency'),
  tolerance: z
    .union(
      [
        z.enum(['EN 50160', 'ANSI C84.1']),
        group('low_percent and high_percent', {
          low_percent: between(-50, 0, 'percent below the mains volts, written with a minus'),
          high_percent: between(0, 50, 'percent above the mains volts'),
        }),
      ],
      { error: 'EN 50160, ANSI C84.1, or low_percent with high_percent' },
    )
    .default('EN 50160')
    .describe('how far the mains may be off: a preset, or percent below and above'),
  ambient: group('ambient with typical and highest', {
    typical: between(-40, 100, 'degrees C'),
    highest: between(-40, 100, 'degrees C'),
  })
    .default({ typical: 22, highest: 35 })
    .describe('air around the enclosure, degrees C'),
  enclosure_rise: notNegative('kelvins').default(5).describe('how much warmer it is inside the enclosure, K'),
});

const transformerSchema = group('a transformer with volts and va', {
  volts: positive('volts RMS').describe('secondary RMS volts at rated load; of one half with a centre tap'),
  va: positive('volt-amperes').optional().describe('rating in VA; give this or amps'),
  amps: positive('amps')
    .optional()
    .describe('rated secondary RMS amps, of each half with a centre tap; give this or va'),
  regulation_percent: between(0, 100, 'percent')
    .optional()
    .describe('(no-load volts - rated volts) / rated volts'),
  winding_ohms: positive('ohms')
    .optional()
    .describe('all resistance seen at the secondary, or at one half; instead of regulation_percent'),
  fuse_amps: positive('amps').optional().describe('primary fuse'),
});

/** `centre-tap`: full-wave, two diodes and two half windings. */
export const RECTIFIER_KINDS = ['bridge', 'centre-tap', 'half-wave'] as const;

const rectifierSchema = group('a rectifier with its kind', {
  kind: z
    .enum(RECTIFIER_KINDS, { error: RECTIFIER_KINDS.join(', ') })
    .describe('bridge, full-wave with a centre-tapped winding, or a single diode'),
  diode: partName('the name of a diode, 1N4007 for example')
    .default('1N4007')
    .describe('part name in the library'),
});

const reservoirSchema = group('a reservoir with capacity_uF', {
  capacity_uF: positive('microfarads'),
  tolerance_percent: between(0, 100, 'percent').default(20),
  esr: notNegative('ohms').optional().describe('equivalent series resistance, ohm'),
  working_volts: positive('volts').optional(),
  ripple_amps: positive('amps RMS').optional().describe('ripple-current rating, A RMS'),
  bleed: positive('ohms').optional().describe('bleed resistor, ohm'),
});

const coolingSchema = group('cooling with heatsink', {
  package: partName('the name of a package, TO-220 for example').default('TO-220'),
  interface: partName('the name of an interface, greased for example')
    .default('greased')
    .describe('what is between package and heatsink'),
  heatsink: z
    .union([z.literal('none'), z.number().positive()], {
      error: 'a positive number of K/W, or none for a bare package,',
    })
    .describe('heatsink to air in K/W, or none for a bare package'),
  heat_capacity: positive('J/K').optional().describe('heat capacity of the heatsink, J/K'),
});

const loadSchema = group('a load with idle, typical and full amps', {
  idle: notNegative('amps'),
  typical: notNegative('amps'),
  full: notNegative('amps'),
}).describe('amps drawn from the rail in each state');

const railSchema = group('a rail with regulator, cooling and load', {
  regulator: partName('the name of a regulator, LM317 or 7805 for example').describe(
    'part name in the library: LM317, 7805 …',
  ),
  from: text('reservoir, or the name of another rail')
    .default('reservoir')
    .describe('what feeds it: reservoir, or another rail'),
  series: positive('ohms')
    .optional()
    .describe('resistor before the regulator that takes some of its heat, ohm'),
  r1: positive('ohms').optional().describe('ohm, output to adjust; adjustable regulators only'),
  r2: positive('ohms').optional().describe('ohm, adjust to ground; adjustable regulators only'),
  resistor_tolerance_percent: between(0, 50, 'percent').default(1),
  adjust_capacitor_uF: positive('microfarads').optional().describe('adjust to ground'),
  cooling: coolingSchema,
  load: loadSchema,
  damage: group('damage with low or high volts', {
    low: notNegative('volts').optional(),
    high: positive('volts').optional(),
  })
    .default({})
    .describe('volts below or above which the load is harmed'),
});

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
export type Rail = Design['rails'][string];
export type RectifierKind = (typeof RECTIFIER_KINDS)[number];
