import { z } from 'zod';
import { between, group, notNegative, positive } from './allowed.js';
import { BARE, coolingSchema } from './design-cooling.js';
import { loadSchema } from './design-load.js';

const FOLLOWERS = ['bipolar', 'darlington', 'mosfet'] as const;

const multiplierSchema = group('a capacitance multiplier', {
  kind: z.literal('multiplier'),
  follower: z
    .enum(FOLLOWERS, { error: FOLLOWERS.join(', ') })
    .describe('the pass device: its emitter or source is the output'),
  resistor: positive('ohms').describe('reservoir to base or gate, ohm'),
  capacity_uF: positive('microfarads').describe('base or gate to ground'),
  divider: positive('ohms').optional().describe('across the capacitor: lowers the output for headroom, ohm'),
  gain: between(5, 100_000, 'times')
    .optional()
    .describe('current gain at the full load; of both transistors together for a darlington'),
  threshold: between(0.5, 10, 'volts').optional().describe("a mosfet's gate-source volts at the full load"),
  cooling: coolingSchema.default({ ...BARE }).describe('of the pass device'),
  load: loadSchema.optional().describe('drawn straight from its output'),
});

const rcSchema = group('a resistor and a capacitor', {
  kind: z.literal('rc'),
  resistor: positive('ohms').describe('between reservoir and second capacitor, ohm'),
  capacity_uF: positive('microfarads').describe('of the second capacitor'),
  esr: notNegative('ohms').optional().describe('of the second capacitor, ohm'),
  load: loadSchema.optional().describe('drawn straight from its output'),
});

/** What stands between the positive reservoir and the rails that say `from: filter`. */
export const filterSchema = z
  .discriminatedUnion('kind', [multiplierSchema, rcSchema], {
    error: 'multiplier (a capacitance multiplier) or rc (a resistor and a capacitor)',
  })
  .describe('a capacitance multiplier, or a resistor and a capacitor, behind the reservoir');

export type Filter = z.output<typeof filterSchema>;
