import { z } from 'zod';
import { TICK_INDEX } from './row.js';
import {
  channelSchema,
  endSchema,
  eventSchemas,
  headerSchema,
  lostSchema,
  nextSchema,
  recordedEffectSchema,
  sealSchema,
} from './schemas.js';

const MARKS = ['overload', 'not-a-number', 'out-of-range'] as const;
const atMs = z.number();
const index = channelSchema.shape.index;

/** Everything that one line of a recording may be. */
const LINES: Readonly<Record<string, z.ZodType>> = {
  header: headerSchema,
  channel: withKind('channel', channelSchema),
  'tick, short': z.tuple([atMs]),
  reading: z.tuple([atMs, index, z.number().nullable()]),
  'reading without a number': z.tuple([atMs, index, z.null(), z.enum(MARKS)]),
  'several readings and ticks': z
    .tuple([atMs, z.number().int().min(TICK_INDEX)])
    .rest(z.union([z.number(), z.null(), z.enum(MARKS)])),
  ...Object.fromEntries(Object.entries(eventSchemas).map(([kind, schema]) => [kind, withKind(kind, schema)])),
  effect: withKind('effect', z.object({ effect: recordedEffectSchema })),
  lost: withKind('lost', lostSchema),
  next: withKind('next', nextSchema),
  end: withKind('end', endSchema),
  seal: withKind('seal', sealSchema),
};

function withKind(kind: string, schema: z.ZodType): z.ZodType {
  return z.object({ kind: z.literal(kind) }).and(schema);
}

/** JSON Schema (draft 7) of a line of a recording, as text. It stands as `recordings/recording.schema.json`. */
export function recordingSchemaText(): string {
  const anyOf = Object.entries(LINES).map(([title, schema]) => {
    const line = z.toJSONSchema(schema, { target: 'draft-7', io: 'input' });
    delete line.$schema;
    return { title, ...line };
  });
  const title = 'One line of a railminder-recording, version 1 to 3';
  return `${JSON.stringify({ $schema: 'http://json-schema.org/draft-07/schema#', title, anyOf }, null, 2)}\n`;
}
