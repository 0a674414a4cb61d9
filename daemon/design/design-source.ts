import { z } from 'zod';
import { between, group, notNegative, partName, positive } from './allowed.js';
import { loadSchema } from './design-load.js';

export const mainsSchema = group('mains with volts and hertz', {
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

/** `centre-tapped`: two equal halves, or two equal windings joined in series. */
const WINDINGS = ['single', 'centre-tapped'] as const;

export const transformerSchema = group('a transformer with volts and va', {
  volts: positive('volts RMS').describe('secondary RMS volts at rated load; of one half with a centre tap'),
  windings: z
    .enum(WINDINGS, { error: WINDINGS.join(' or ') })
    .optional()
    .describe('single, or centre-tapped: two halves of so many volts each; a split bridge needs it written'),
  va: positive('volt-amperes').optional().describe('rating in VA; give this or amps'),
  amps: positive('amps')
    .optional()
    .describe('rated secondary RMS amps, of each half with a centre tap; give this or va'),
  regulation_percent: between(0.1, 100, 'percent')
    .optional()
    .describe('(no-load volts - rated volts) / rated volts'),
  winding_ohms: positive('ohms')
    .optional()
    .describe('all resistance seen at the secondary, or at one half; instead of regulation_percent'),
  fuse_amps: positive('amps').optional().describe('primary fuse'),
});

/**
 * `centre-tap`: full-wave, two diodes and two half windings. `split-bridge`: a bridge over a centre-tapped winding,
 * the tap being ground, for a positive and a negative reservoir.
 */
const RECTIFIER_KINDS = ['bridge', 'centre-tap', 'half-wave', 'split-bridge'] as const;

export const rectifierSchema = group('a rectifier with its kind', {
  kind: z
    .enum(RECTIFIER_KINDS, { error: RECTIFIER_KINDS.join(', ') })
    .describe(
      'bridge, full-wave with a centre-tapped winding, a single diode, or a bridge for both polarities of a centre-tapped winding',
    ),
  diode: partName('the name of a diode, 1N4007 for example')
    .default('1N4007')
    .describe('part name in the library'),
  drop: between(0.1, 2, 'volts')
    .optional()
    .describe("forward volts of one diode at 1 A, instead of its type's"),
});

export const reservoirSchema = group('a reservoir with capacity_uF', {
  capacity_uF: positive('microfarads'),
  tolerance_percent: between(0, 100, 'percent')
    .default(20)
    .describe('either way, but never below half of capacity_uF'),
  esr: notNegative('ohms').optional().describe('equivalent series resistance, ohm'),
  working_volts: positive('volts').optional(),
  ripple_amps: positive('amps RMS').optional().describe('ripple-current rating, A RMS'),
  bleed: positive('ohms').optional().describe('bleed resistor, ohm'),
  load: loadSchema.optional().describe('drawn straight from the reservoir'),
});
