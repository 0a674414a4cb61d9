import { z } from 'zod';
import type { PageMessage } from './messages.js';

const name = z.string().min(1).max(200);
/** 2 MB of picture in base64 (RFC 4648). */
const MOST_PHOTO_CHARACTERS = Math.ceil((2 * 1024 * 1024) / 3) * 4;
const photo = z.strictObject({
  type: z.enum(['image/jpeg', 'image/png']),
  base64: z.base64().min(4).max(MOST_PHOTO_CHARACTERS),
});

const schemas: { readonly [K in PageMessage['kind']]: z.ZodType<Extract<PageMessage, { kind: K }>> } = {
  acknowledge: z.strictObject({ kind: z.literal('acknowledge'), alarm: name }),
  shelve: z.strictObject({
    kind: z.literal('shelve'),
    alarm: name,
    minutes: z.number().positive().max(1440).nullable(),
  }),
  'cut-off': z.strictObject({
    kind: z.literal('cut-off'),
    output: name,
    order: z.enum(['arm', 'disarm', 'test', 'on', 'off']),
    inSight: z.boolean(),
  }),
  note: z.strictObject({
    kind: z.literal('note'),
    text: z.string().trim().min(1).max(4_000),
    photo: photo.exactOptional(),
  }),
  probe: z.strictObject({
    kind: z.literal('probe'),
    instrument: name,
    channel: name,
    point: name.nullable(),
  }),
  typed: z.strictObject({
    kind: z.literal('typed'),
    instrument: name,
    channel: name,
    text: z.string().trim().min(1).max(200),
  }),
  load: z.strictObject({ kind: z.literal('load'), load: z.enum(['idle', 'typical', 'full']) }),
  step: z.discriminatedUnion('action', [
    z.strictObject({ kind: z.literal('step'), step: name, action: z.enum(['begin', 'back']) }),
    z.strictObject({
      kind: z.literal('step'),
      step: name,
      action: z.literal('answer'),
      check: name,
      text: z.string().trim().min(1).max(200),
    }),
    z.strictObject({
      kind: z.literal('step'),
      step: name,
      action: z.enum(['override', 'abort']),
      reason: z.string().trim().max(1_000),
    }),
    z.strictObject({
      kind: z.literal('step'),
      step: name,
      action: z.literal('sign'),
      name: z.string().trim().max(200),
    }),
  ]),
  'demo-fault': z.strictObject({ kind: z.literal('demo-fault'), fault: name }),
  snapshot: z.strictObject({ kind: z.literal('snapshot') }),
};

/** A page's message, or why it isn't one. */
export type ReadMessage =
  { readonly message: PageMessage; readonly why: null } | { readonly message: null; readonly why: string };

/** Reads what came from a page; nothing in it is trusted. */
export function readPageMessage(text: string): ReadMessage {
  const found = parsed(text);
  if (typeof found !== 'object' || found === null || !('kind' in found)) {
    return refusal('The message is not a JSON object with a "kind".');
  }
  const { kind } = found;
  if (typeof kind !== 'string' || !Object.hasOwn(schemas, kind)) {
    return refusal(`The kind ${quoted(kind)} is not known; there are ${Object.keys(schemas).join(', ')}.`);
  }
  const checked = schemas[kind as PageMessage['kind']].safeParse(found);
  if (checked.success) return { message: checked.data, why: null };
  const issue = checked.error.issues[0];
  return refusal(`${kind}: ${issue?.path.join('.') ?? ''} ${issue?.message ?? 'is not right'}.`);
}

function refusal(why: string): ReadMessage {
  return { message: null, why };
}

function parsed(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}

/** Of a list or an object only that it is one: it may nest deeper than the stack. */
function quoted(found: unknown): string {
  return typeof found === 'string' ? JSON.stringify(found.slice(0, 40)) : `of type ${typeof found}`;
}
