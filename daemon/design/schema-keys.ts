import { z } from 'zod';
import { benchSchema } from './bench.js';
import { designSchema } from './design.js';

/** The part of JSON Schema (draft 7) that the file schemas use. */
export interface JsonSchema {
  readonly type?: string | readonly string[];
  readonly properties?: Readonly<Record<string, JsonSchema>>;
  readonly additionalProperties?: JsonSchema | boolean;
  readonly anyOf?: readonly JsonSchema[];
  readonly oneOf?: readonly JsonSchema[];
  readonly enum?: readonly unknown[];
  readonly const?: unknown;
  readonly [other: string]: unknown;
}

/** Draft 7 is what editors understand everywhere. `input`: as people write it, defaults left out. */
const STYLE = { io: 'input', target: 'draft-7' } as const;

/** JSON Schema of `*.design.yaml` for editors; without what loading notes by itself. */
export const designJsonSchema = once(() => {
  const schema = z.toJSONSchema(designSchema, STYLE) as JsonSchema;
  const written = Object.entries(schema.properties ?? {}).filter(([key]) => key !== 'defaulted');
  return { ...schema, title: 'Railminder design', properties: Object.fromEntries(written) };
});

/** JSON Schema of `*.bench.yaml` for editors. */
export const benchJsonSchema = once(() => ({
  ...(z.toJSONSchema(benchSchema, STYLE) as JsonSchema),
  title: 'Railminder bench',
}));

/** Made with the first problem of a file, since that takes longer than reading the file does. */
function once(make: () => JsonSchema): () => JsonSchema {
  let made: JsonSchema | undefined;
  return () => (made ??= make());
}

/** The keys that a schema knows at a path. */
export function keysAt(schema: JsonSchema, path: readonly string[]): string[] {
  const keys = schemasAt(schema, path).flatMap(({ properties }) => Object.keys(properties ?? {}));
  return [...new Set(keys)];
}

/** The fixed words that a schema allows at a path. */
export function wordsAt(schema: JsonSchema, path: readonly string[]): string[] {
  return schemasAt(schema, path)
    .flatMap((inner) => [...(inner.enum ?? []), inner.const])
    .filter((word) => typeof word === 'string');
}

/** Every schema that may hold at a path, choices spread out. */
function schemasAt(schema: JsonSchema, path: readonly string[]): JsonSchema[] {
  const branches = schema.anyOf ?? schema.oneOf;
  const choices = branches ? branches.flatMap((choice) => schemasAt(choice, [])) : [schema];
  const [first, ...rest] = path;
  if (first === undefined) return choices;
  return choices.flatMap(({ properties, additionalProperties }) => {
    if (properties && Object.hasOwn(properties, first)) return schemasAt(properties[first] ?? {}, rest);
    return typeof additionalProperties === 'object' ? schemasAt(additionalProperties, rest) : [];
  });
}
