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

const accuracySchema = group('accuracy with percent', {
  percent: between(0, 100, 'percent').describe('of the reading'),
  counts: notNegative('counts')
    .int({ error: 'a whole number of counts' })
    .default(0)
    .describe('of the last digit'),
  resolution: positive("the channel's unit")
    .optional()
    .describe('what one count is, in the unit of the channel'),
});

const channelSchema = group('a channel with measures', {
  measures: z.enum(MEASURANDS, { error: MEASURANDS.join(', ') }),
  at: text('a test point id such as logic.volts')
    .optional()
    .describe('the test point on which the probe sits at the start: logic.volts'),
  accuracy: accuracySchema.optional(),
});

const baud = positive('baud').int({ error: 'a whole number of baud' }).default(9600);
const tcpError = 'host:port';
const usbError = 'vendor:product or vendor:product:serial in hexadecimal, 1a86:7523 for example,';

const linkSchema = z
  .union(
    [
      group('serial', {
        serial: text('a device path, /dev/serial/by-id/… or COM3,', 1000).describe(
          'device path, /dev/serial/by-id/… or COM3',
        ),
        baud,
      }),
      group('usb', {
        usb: z
          .string({ error: usbError })
          .regex(/^[0-9a-f]{4}:[0-9a-f]{4}(:.+)?$/i, { error: usbError })
          .describe('vendor:product or vendor:product:serial, hex; found again under any path'),
        baud,
      }),
      group('tcp', { tcp: z.string({ error: tcpError }).regex(/^[^:\s]+:\d+$/, { error: tcpError }) }),
    ],
    { error: 'a link with serial, usb or tcp' },
  )
  .describe('how the instrument is joined');

const instrumentSchema = group('an instrument with driver and link', {
  driver: text('the name of a driver, scpi-meter or text-lines for example').describe(
    'which driver reads it: scpi-meter, text-lines',
  ),
  link: linkSchema,
  options: z
    .record(z.string(), z.unknown(), { error: "a group of the driver's own settings" })
    .default({})
    .describe("the driver's own settings"),
  channels: z.record(z.string(), channelSchema, { error: 'a group of named channels' }).default({}),
});

/** Which instruments are on the table and how they are joined, as written in `*.bench.yaml`. */
export const benchSchema = group('a bench with its instruments', {
  bench: text('a name for the bench').describe('what this table is called'),
  instruments: z.record(name, instrumentSchema, { error: 'a group of named instruments' }),
});

export type Bench = z.output<typeof benchSchema>;
export type BenchInstrument = Bench['instruments'][string];
export type BenchLink = BenchInstrument['link'];
export type Accuracy = z.output<typeof accuracySchema>;
