import { z } from 'zod';
import { between, group, name, notNegative, positive, text } from './allowed.js';

/** The quantities that a channel may measure. */
export const MEASURANDS = [
  'dc-volts',
  'ac-volts',
  'dc-amps',
  'ac-amps',
  'ohms',
  'temperature',
  'frequency',
] as const;

const rangeAccuracy = {
  percent: between(0, 100, 'percent').describe('of the reading'),
  counts: notNegative('counts')
    .int({ error: 'a whole number of counts' })
    .default(0)
    .describe('of the last digit'),
  resolution: positive("the channel's unit")
    .optional()
    .describe('what one count is, in the unit of the channel'),
};

const accuracySchema = group('accuracy with percent', {
  ...rangeAccuracy,
  ranges: z
    .array(
      group('a range with up_to and percent', {
        up_to: positive("the channel's unit").describe('the largest reading of this range'),
        ...rangeAccuracy,
      }),
      { error: 'a list of ranges' },
    )
    .max(20, { error: 'at most 20 ranges' })
    .optional()
    .describe(
      'where the meter is better or worse than that, the smallest range that holds the reading counts',
    ),
});

const channelSchema = group('a channel with measures', {
  measures: z.enum(MEASURANDS, { error: MEASURANDS.join(', ') }),
  at: text('a test point id such as logic.volts')
    .optional()
    .describe('the test point on which the probe sits at the start: logic.volts'),
  accuracy: accuracySchema.optional(),
  sensor: z
    .record(z.string(), z.unknown(), { error: 'a group such as { thermocouple: K, cold_junction: 25 }' })
    .optional()
    .describe(
      'what stands between the test point and the instrument; measures is then what the instrument sees',
    ),
});

export const PARITIES = ['none', 'even', 'odd', 'mark', 'space'] as const;
export const FLOW_CONTROLS = ['none', 'rts-cts', 'xon-xoff'] as const;
const onOrOff = z.enum(['on', 'off'], { error: 'on or off' });

const baud = positive('baud').int({ error: 'a whole number of baud' }).default(9600);
/** How the bits go over the wire, and what the modem lines do while the port is open. */
const line = {
  baud,
  parity: z
    .enum(PARITIES, { error: PARITIES.join(', ') })
    .optional()
    .describe('none unless said'),
  data_bits: z
    .union([z.literal(7), z.literal(8)], { error: '7 or 8' })
    .optional()
    .describe('8 unless said'),
  stop_bits: z
    .union([z.literal(1), z.literal(2)], { error: '1 or 2' })
    .optional()
    .describe('1 unless said'),
  flow_control: z
    .enum(FLOW_CONTROLS, { error: FLOW_CONTROLS.join(', ') })
    .optional()
    .describe('none unless said'),
  dtr: onOrOff.optional().describe('some cables take their power from it'),
  rts: onOrOff.optional().describe('some cables take their power from it'),
};

const tcpError = 'host:port';
const usbtmcError = '/dev/usbtmc0 for example, or vendor:product or vendor:product:serial in hexadecimal,';
const usbError = 'vendor:product or vendor:product:serial in hexadecimal, 1a86:7523 for example,';

const linkSchema = z.union(
  [
    group('serial', {
      serial: text('a device path, /dev/serial/by-id/… or COM3,', 1000).describe(
        'device path, /dev/serial/by-id/… or COM3',
      ),
      ...line,
    }),
    group('usb', {
      usb: z
        .string({ error: usbError })
        .regex(/^[0-9a-f]{4}:[0-9a-f]{4}(:.+)?$/i, { error: usbError })
        .describe('vendor:product or vendor:product:serial, hex; found again under any path'),
      ...line,
    }),
    group('usbtmc', {
      usbtmc: z
        .string({ error: usbtmcError })
        .regex(/^(\/dev\/\S+|[0-9a-f]{4}:[0-9a-f]{4}(:.+)?)$/i, { error: usbtmcError })
        .describe('a USB instrument of the test and measurement class (Linux): its device file, or its id'),
    }),
    group('tcp', { tcp: z.string({ error: tcpError }).regex(/^[^:\s]+:\d+$/, { error: tcpError }) }),
  ],
  { error: 'a link with serial, usb, usbtmc or tcp' },
);

const instrumentSchema = group('an instrument with driver and link', {
  driver: text('the name of a driver, scpi-meter or text-lines for example').describe(
    'which driver reads it: scpi-meter, text-lines',
  ),
  link: linkSchema.optional().describe('how the instrument is joined; nothing for one that is read by hand'),
  options: z
    .record(z.string(), z.unknown(), { error: "a group of the driver's own settings" })
    .default({})
    .describe("the driver's own settings"),
  channels: z.record(z.string(), channelSchema, { error: 'a group of named channels' }).default({}),
});

/** What may drop a cut-off: the kinds of alarm, and the priorities. */
export const CUT_OFF_CAUSES = [
  'high',
  'medium',
  'over-limit',
  'heading-over-limit',
  'passing-input',
  'outside-prediction',
  'no-headroom',
  'ripple-frequency',
  'oscillating',
  'sensor-lifted',
  'stuck-reading',
  'overload',
  'stale',
  'instrument-lost',
  'not-recording',
] as const;
export type CutOffCause = (typeof CUT_OFF_CAUSES)[number];

const outputSchema = group('an output with driver and link', {
  driver: text('the name of an output driver, relay-lines or scpi-supply').describe(
    'what switches it: relay-lines, scpi-supply',
  ),
  link: linkSchema.describe('how it is joined'),
  options: z
    .record(z.string(), z.unknown(), { error: "a group of the driver's own settings" })
    .default({})
    .describe("the driver's own settings"),
  armed: z
    .boolean({ error: 'true or false' })
    .default(false)
    .describe('whether it may be switched at all; it replaces no fuse and no switch within reach'),
  cuts_off_on: z
    .array(z.enum(CUT_OFF_CAUSES, { error: CUT_OFF_CAUSES.join(', ') }), {
      error: 'a list such as [passing-input, over-limit]',
    })
    .max(CUT_OFF_CAUSES.length, { error: `at most ${CUT_OFF_CAUSES.length} kinds` })
    .optional()
    .describe(
      'kinds of alarm, or priorities, that take power away once a person has armed it; a help, in place of no fuse, no lamp limiter and no person',
    ),
  cuts_off_at: z
    .array(text('a test point id such as logic.volts'), { error: 'a list of test points' })
    .min(1, { error: 'at least one test point; leave the key out for all of them' })
    .max(200, { error: 'at most 200 test points' })
    .optional()
    .describe('only alarms of these test points drop it, and those that belong to none; all unless said'),
});

const hookSchema = group('a hook with run or post', {
  priority: z
    .enum(['high', 'medium', 'low'], { error: 'high, medium or low' })
    .default('high')
    .describe('for alarms of this priority and of every higher one'),
  run: z
    .array(z.string({ error: 'text' }).max(4096, { error: 'at most 4096 characters' }), {
      error: 'a list: the program, then each of its arguments',
    })
    .min(1, { error: 'at least the program' })
    .max(64, { error: 'at most 63 arguments' })
    .optional()
    .describe(
      'a program with its arguments, run without a shell; it gets the alarm as JSON on its standard input',
    ),
  post: z
    .url({ protocol: /^https?$/, error: 'an address such as http://127.0.0.1:8080/alarm' })
    .optional()
    .describe('an http or https address that the alarm is posted to as JSON'),
  timeout_s: between(1, 60, 'seconds').default(10).describe('a hook that takes longer is ended'),
});

/** Which instruments are on the table and how they are joined, as written in `*.bench.yaml`. */
export const benchSchema = group('a bench with its instruments', {
  bench: text('a name for the bench').describe('what this table is called'),
  instruments: z.record(name, instrumentSchema, { error: 'a group of named instruments' }),
  outputs: z
    .record(name, outputSchema, { error: 'a group of named outputs' })
    .optional()
    .describe('what lets power through or takes it away'),
  hooks: z
    .array(hookSchema, { error: 'a list of hooks' })
    .max(10, { error: 'at most 10 hooks' })
    .optional()
    .describe('what is told of an alarm when it is raised or gets worse'),
});

export type Bench = z.output<typeof benchSchema>;
export type BenchInstrument = Bench['instruments'][string];
export type BenchOutput = z.output<typeof outputSchema>;
export type BenchHook = z.output<typeof hookSchema>;
export type BenchLink = z.output<typeof linkSchema>;
export type Accuracy = z.output<typeof accuracySchema>;
