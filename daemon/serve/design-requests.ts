import type { IncomingMessage } from 'node:http';
import { z } from 'zod';
import type { DesignDesk, EditValue } from './design-messages.js';
import { action, answerJson, type JsonAnswer, type JsonAsk, type Paths } from './json-requests.js';

/** A design file is at most 1 MiB. */
const MOST_TEXT = 1024 * 1024;

const text = z.string().max(MOST_TEXT);
const typed = z.string().max(200);
const key = z.string().min(1).max(120);
/** A value that is written into a file. */
export const valueSchema: z.ZodType<EditValue> = z.lazy(() =>
  z.union([
    z.string().max(4_000),
    z.number(),
    z.boolean(),
    z.array(valueSchema).max(100),
    z.record(key, valueSchema),
  ]),
);
const edit = z.strictObject({ path: z.array(key).min(1).max(12), value: valueSchema.nullable() });
const rail = { name: typed, volts: typed, full: typed };
const load = z.enum(['idle', 'typical', 'full']);

const previewSchema = z.strictObject({
  text,
  edits: z.array(edit).max(50),
  load,
  draws: z.enum(['quick', 'full']),
});
const beginSchema = z.strictObject({
  name: typed,
  mains: typed,
  volts: typed,
  va: typed,
  capacity_uF: typed,
  rails: z.array(z.strictObject(rail)).max(6),
});
const railSchema = z.strictObject({ text, ...rail });
const saveSchema = z.strictObject({
  text,
  file: z.string().max(200),
  version: z.string().max(100).nullable(),
});

const PATHS: Paths<DesignDesk> = {
  open: '/design/open',
  changing: ['/design/save'],
  posts: {
    '/design/preview': action(previewSchema, (desk: DesignDesk, request) => desk.preview(request)),
    '/design/begin': action(beginSchema, (desk: DesignDesk, request) => desk.begin(request)),
    '/design/rail': action(railSchema, (desk: DesignDesk, request) => desk.rail(request)),
    '/design/save': action(saveSchema, (desk: DesignDesk, request) => desk.save(request)),
  },
};

/** Whether a path is about designs. */
export function isDesignPath(path: string): boolean {
  return path === PATHS.open || Object.hasOwn(PATHS.posts, path);
}

/** Answers our own page about designs. */
export function answerDesign(desk: DesignDesk, ask: JsonAsk, request: IncomingMessage): Promise<JsonAnswer> {
  return answerJson(PATHS, desk, ask, request);
}
