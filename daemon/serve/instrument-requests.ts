import type { IncomingMessage } from 'node:http';
import { z } from 'zod';
import { valueSchema } from './design-requests.js';
import type { BenchEdit, InstrumentDesk, InstrumentToAdd } from './instrument-messages.js';
import { action, answerJson, type JsonAnswer, type JsonAsk, type Paths } from './json-requests.js';

const text = z.string().max(1024 * 1024);
const key = z.string().min(1).max(120);
const word = z.string().max(120);
const typed = z.string().max(4_000);
const line = z.string().max(400);
const MOST_LINES = 50;
const LONGEST_LISTENING_S = 60;
/** Device paths, COM ports, and host:port; nothing else is opened. */
const port = z
  .string()
  .max(300)
  .regex(/^(\/(?!.*\.\.)[^\s]+|COM\d{1,3}|[^/\\\s:]+:\d{1,5})$/i);

const toAdd: z.ZodType<InstrumentToAdd> = z.strictObject({
  name: z
    .string()
    .max(60)
    .regex(/^[a-z][a-z0-9-]*$/),
  about: typed,
  driver: word,
  link: z.record(key, valueSchema).nullable(),
  options: z.record(key, z.json()),
  channels: z.array(z.strictObject({ name: key, says: z.record(key, z.json()), about: typed })).max(200),
});

const edit: z.ZodType<BenchEdit> = z.discriminatedUnion('kind', [
  z.strictObject({
    kind: z.literal('set'),
    path: z.array(key).min(3).max(12),
    value: valueSchema.nullable(),
  }),
  z.strictObject({ kind: z.literal('remove'), instrument: key }),
  z.strictObject({ kind: z.literal('options'), instrument: key, typed }),
  z.strictObject({ kind: z.literal('add'), instrument: toAdd }),
  z.strictObject({ kind: z.literal('rename-instrument'), instrument: key, name: word }),
  z.strictObject({ kind: z.literal('channel'), instrument: key, channel: key, name: word, measures: word }),
]);

const nothing = z.strictObject({});

const PATHS: Paths<InstrumentDesk> = {
  open: '/instruments/open',
  // Opening a port restarts some boards.
  changing: ['/instruments/listen', '/instruments/hush', '/instruments/save'],
  posts: {
    '/instruments/preview': action(
      z.strictObject({ text, edits: z.array(edit).max(50) }),
      (desk: InstrumentDesk, request) => desk.preview(request),
    ),
    '/instruments/ports': action(nothing, (desk: InstrumentDesk) => desk.ports()),
    '/instruments/listen': action(
      z.strictObject({ port, seconds: z.number().min(1).max(LONGEST_LISTENING_S) }),
      (desk: InstrumentDesk, request) => desk.listen(request),
    ),
    '/instruments/listening': action(nothing, (desk: InstrumentDesk) => desk.listening()),
    '/instruments/hush': action(nothing, (desk: InstrumentDesk) => desk.hush()),
    '/instruments/heard': action(z.strictObject({ instrument: key }), (desk: InstrumentDesk, request) =>
      desk.heard(request),
    ),
    '/instruments/try': action(
      z.strictObject({ pattern: typed, lines: z.array(line).max(MOST_LINES) }),
      (desk: InstrumentDesk, request) => desk.try(request),
    ),
    '/instruments/save': action(
      z.strictObject({ text, file: z.string().max(200), version: z.string().max(100).nullable() }),
      (desk: InstrumentDesk, request) => desk.save(request),
    ),
  },
};

/** Whether a path is about instruments. */
export function isInstrumentPath(path: string): boolean {
  return path === PATHS.open || Object.hasOwn(PATHS.posts, path);
}

/** Answers our own page about ports and the bench file. */
export function answerInstruments(
  desk: InstrumentDesk,
  ask: JsonAsk,
  request: IncomingMessage,
): Promise<JsonAnswer> {
  return answerJson(PATHS, desk, ask, request);
}
