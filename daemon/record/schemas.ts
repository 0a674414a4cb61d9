import { z } from 'zod';
import { LOAD_STATES } from '../design/design-load.js';
import {
  CUT_OFF_ORDERS,
  SERVICES,
  type CaptureEvent,
  type InstrumentEvent,
  type ReadingEvent,
  type WatchEvent,
} from '../watch/events.js';
import { RECORDING_FORMAT } from './header.js';
import { bandSchema, planSchema, spreadSchema, unitSchema } from './plan-schema.js';
import { stepSchema } from './procedure-schema.js';

export type OtherEvent = Exclude<WatchEvent, ReadingEvent>;

/** Every word of a union: the compiler asks for one that is missing here. */
const STATES: Readonly<Record<InstrumentEvent['state'], true>> = {
  waiting: true,
  open: true,
  reading: true,
  lost: true,
  closed: true,
};

/** Bytes of one count. */
export const COUNT_BYTES: Readonly<Record<CaptureEvent['counts'], number>> = { i8: 1, u8: 1, i16: 2, u16: 2 };
const COUPLINGS: Readonly<Record<CaptureEvent['coupling'], true>> = {
  dc: true,
  ac: true,
  ground: true,
  unknown: true,
};

const text = z.string();
const atMs = z.number();
const base64 = text.regex(/^[A-Za-z0-9+/]+={0,2}$/);
const photo = z.object({ type: z.enum(['image/jpeg', 'image/png']), base64 });

const splitSchema = z.object({ fault: text, about: text, title: text, reads: z.number() });
const suspectSchema = z.object({
  fault: text,
  about: text,
  title: text,
  probability: z.number(),
  evidence: z.array(
    z.object({
      point: text,
      unit: unitSchema,
      speaks: z.enum(['for', 'against']),
      value: z.number(),
      expected: spreadSchema,
      healthy: spreadSchema,
      bits: z.number(),
    }),
  ),
  action: z.object({ switchOff: z.boolean(), words: text }),
  alike: z.array(z.object({ fault: text, about: text, title: text })).optional(),
});

/** Keys that are new in a later version pass: the object itself goes on, the schema only looks at it. */
export const eventSchemas: { readonly [K in OtherEvent['kind']]: z.ZodType } = {
  instrument: z.object({
    atMs,
    instrument: text,
    state: z.literal(Object.keys(STATES)),
    why: text,
    path: text.optional(),
    identity: text.optional(),
  }),
  capture: z.object({
    atMs,
    instrument: text,
    channel: text,
    point: text.nullable(),
    unit: z.enum(['V', 'A']),
    counts: z.literal(Object.keys(COUNT_BYTES)),
    samples: base64,
    scale: z.number(),
    offset: z.number(),
    startSeconds: z.number(),
    stepSeconds: z.number().positive(),
    coupling: z.literal(Object.keys(COUPLINGS)),
  }),
  fault: z.object({ atMs, instrument: text, code: text, count: z.number(), detail: text }),
  probe: z.object({ atMs, instrument: text, channel: text, point: text.nullable() }),
  acknowledge: z.object({ atMs, alarm: text }),
  note: z.object({ atMs, text, photo: photo.optional() }),
  recorder: z.object({ atMs, writing: z.boolean(), why: text }),
  load: z.object({ atMs, load: z.literal(LOAD_STATES) }),
  expect: z.object({
    atMs,
    load: z.literal(LOAD_STATES),
    step: text.nullable(),
    measured: z.array(text),
    bands: z.record(text, bandSchema),
  }),
  suspects: z.object({
    atMs,
    from: z.array(text),
    suspects: z.array(suspectSchema),
    other: z.number(),
    next: z
      .looseObject({
        point: text,
        unit: unitSchema,
        splits: z.array(splitSchema),
        way: z.object({ instrument: text, channel: text, isTyped: z.boolean() }).nullable().optional(),
        load: z.literal(LOAD_STATES).optional(),
      })
      .nullable(),
    odd: z.array(text),
    parameters: z.array(spreadSchema.extend({ id: text, unit: text })),
    otherLoad: z
      .object({ load: z.literal(LOAD_STATES), probability: z.number() })
      .nullable()
      .optional(),
  }),
  step: stepSchema,
  clock: z.object({
    atMs,
    was: z.iso.datetime(),
    is: z.iso.datetime(),
    unwatchedMs: z.number().nonnegative().optional(),
  }),
  shelve: z.object({ atMs, alarm: text, untilMs: z.number().nullable() }),
  'cut-off': z.object({ atMs, output: text, order: z.literal(CUT_OFF_ORDERS), inSight: z.boolean() }),
  output: z.object({ atMs, output: text, position: z.enum(['on', 'off']), failed: text.nullable() }),
  hook: z.object({ atMs, hook: text, alarm: text, failed: text.nullable() }),
  service: z.object({ atMs, service: z.enum(SERVICES), name: text, working: z.boolean(), why: text }),
  stall: z.object({ atMs, stalledMs: z.number().nonnegative() }),
  tick: z.object({ atMs }),
};

const alarmEffectSchema = z.object({
  kind: z.literal('alarm'),
  atMs,
  change: text,
  alarm: z.looseObject({ id: text }),
});

const cutOffEffectSchema = z.object({
  kind: z.literal('cut-off'),
  atMs,
  output: text,
  change: text,
  alarm: text.nullable(),
  why: text,
});

export const recordedEffectSchema = z.discriminatedUnion('kind', [alarmEffectSchema, cutOffEffectSchema]);

export const channelSchema = z.object({
  index: z.number().int().nonnegative().max(9_999),
  instrument: text,
  channel: text,
  unit: unitSchema,
});

export const lostSchema = z.object({ lines: z.number() });

const sha256 = text.regex(/^[0-9a-f]{64}$/);

export const sealSchema = z.object({ sha256 });

/** A name and nothing else: no way into another folder. */
const fileName = text.regex(/^[a-z0-9][a-z0-9.-]{0,199}$/);

export const nextSchema = z.object({ file: fileName });

export const endSchema = z.object({
  atMs,
  summary: z.object({ readings: z.number(), events: z.number(), alarms: z.number(), lost: z.number() }),
});

/** Of four digits' years: what is reckoned from any other may be no date. */
function isMoment(words: string): boolean {
  return /^\d{4}-/.test(words) && !Number.isNaN(Date.parse(words));
}

const verbatimSchema = z.object({ file: text, text });

export const headerSchema = z.object({
  format: z.literal(RECORDING_FORMAT),
  version: z.number().int(),
  software: text,
  startedAt: text.refine(isMoment, 'found no moment in ISO 8601'),
  zone: text,
  design: verbatimSchema,
  bench: verbatimSchema,
  plan: planSchema,
  part: z.object({ number: z.number().int().min(2), after: fileName }).optional(),
  repairedFrom: z.object({ file: text, dropped: z.number(), altered: z.boolean() }).optional(),
});

/** The object itself as the event that it says it is, or null when it isn't one. */
export function asOtherEvent(found: object): OtherEvent | null {
  const kind = 'kind' in found ? found.kind : null;
  if (typeof kind !== 'string' || !Object.hasOwn(eventSchemas, kind)) return null;
  const schema = eventSchemas[kind as OtherEvent['kind']];
  if (!schema.safeParse(found).success) return null;
  const event = found as OtherEvent;
  return event.kind === 'capture' && !hasWholeCounts(event) ? null : event;
}

/** Four characters of base64 are three bytes (RFC 4648, section 4). */
function hasWholeCounts({ counts, samples }: CaptureEvent): boolean {
  const padding = samples.endsWith('==') ? 2 : samples.endsWith('=') ? 1 : 0;
  const bytes = (samples.length / 4) * 3 - padding;
  return Number.isInteger(bytes) && bytes % COUNT_BYTES[counts] === 0;
}
