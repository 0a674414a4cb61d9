import { z } from 'zod';
import { between, group, notNegative, positive, text } from './allowed.js';
import { coolingSchema } from './design-cooling.js';
import { loadSchema } from './design-load.js';

const zenerSchema = group('a zener diode with a follower', {
  kind: z.literal('zener'),
  zener_volts: positive('volts').describe('of the zener diode; the rail has a base-emitter drop less'),
  zener_tolerance_percent: between(0, 20, 'percent').default(5),
  zener_amps: positive('amps').default(0.005).describe('at which its volts are stated'),
  zener_ohms: positive('ohms').default(10).describe('its slope resistance'),
  resistor: positive('ohms').describe('input to base, ohm'),
  gain: between(5, 100_000, 'times').default(100).describe('current gain of the follower at the full load'),
});

const efficiencyPoint = z.tuple([positive('amps'), between(1, 100, 'percent')], {
  error: 'a pair of amps and percent such as [0.5, 88]',
});

const switchingSchema = group('a switching module', {
  kind: z.literal('switching'),
  volts: positive('volts').describe('output'),
  tolerance_percent: between(0, 20, 'percent').default(2),
  efficiency: z
    .array(efficiencyPoint, { error: 'a list of pairs of amps and percent' })
    .min(1, 'at least one pair of amps and percent')
    .max(50, 'at most 50 pairs of amps and percent')
    .describe('pairs of output amps and percent, amps rising: [[0.1, 80], [1, 90]]'),
  minimum_input: positive('volts').describe('least input at which it holds its output, V'),
  idle_amps: notNegative('amps').default(0.01).describe('drawn from its input with nothing connected'),
  rejection_dB: between(0, 120, 'dB').default(40).describe("how much of the input's ripple it holds back"),
});

const givenSchema = group('given volts', {
  kind: z.literal('given'),
  volts: positive('volts').describe('output, whatever makes it'),
  tolerance_percent: between(0, 50, 'percent').default(5),
  dropout: notNegative('volts').describe('least input minus output, V'),
  ripple: notNegative('volts peak to peak').default(0).describe('of its own, peak to peak, V'),
});

/** What else than a part's name may stand at `regulator`. */
const otherRegulators = z.discriminatedUnion('kind', [zenerSchema, switchingSchema, givenSchema], {
  error: 'zener, switching or given',
});

const regulatorSchema = z
  .union([z.string(), z.number(), otherRegulators], {
    error: 'the name of a regulator, LM317 or 7805 for example',
  })
  .transform((written) => (typeof written === 'number' ? String(written) : written))
  .describe('part name in the library: LM317, 7805 …; or a zener follower, a switching module, given volts');

const seriesSchema = z
  .union(
    [
      positive('ohms'),
      group('ohms and watts', {
        ohms: positive('ohms'),
        watts: positive('watts').optional().describe('its rating'),
      }),
    ],
    { error: 'a positive number of ohms' },
  )
  .describe('resistor before the regulator that takes some of its heat, ohm');

export const railSchema = group('a rail with regulator, cooling and load', {
  regulator: regulatorSchema,
  from: text('reservoir, or the name of another rail')
    .default('reservoir')
    .describe('what feeds it: reservoir, negative-reservoir, filter, or another rail'),
  series: seriesSchema.optional(),
  r1: positive('ohms').optional().describe('ohm, output to adjust; adjustable regulators only'),
  r2: positive('ohms').optional().describe('ohm, adjust to ground; adjustable regulators only'),
  resistor_tolerance_percent: between(0, 50, 'percent').default(1),
  adjust_capacitor_uF: positive('microfarads').optional().describe('adjust to ground'),
  cooling: coolingSchema
    .optional()
    .describe('of the regulator; a switching module and given volts may leave it out'),
  load: loadSchema,
  damage: group('damage with low or high volts', {
    low: notNegative('volts').optional(),
    high: positive('volts').optional(),
  })
    .default({})
    .describe('volts below or above which the load is harmed; without the sign of a negative rail'),
});

export type Rail = z.output<typeof railSchema>;
/** A regulator that isn't a part of the library. */
export type OtherRegulator = z.output<typeof otherRegulators>;
export type ZenerRegulator = Extract<OtherRegulator, { kind: 'zener' }>;

/** The resistor before a regulator, ohm; 0 for none. */
export function seriesOhms({ series }: Pick<Rail, 'series'>): number {
  return typeof series === 'object' ? series.ohms : (series ?? 0);
}
