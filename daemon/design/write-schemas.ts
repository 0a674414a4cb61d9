import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { benchJsonSchema, designJsonSchema } from './schema-keys.js';

/** The JSON Schemas for editors: file name and text. They stand beside this file in the sources. */
export function schemaFiles(): Readonly<Record<string, string>> {
  const text = (schema: object) => `${JSON.stringify(schema, null, 2)}\n`;
  return { 'design.schema.json': text(designJsonSchema()), 'bench.schema.json': text(benchJsonSchema()) };
}

/** Writes both schemas into a folder; returns their paths. */
export function writeSchemas(folder: string): string[] {
  return Object.entries(schemaFiles()).map(([name, text]) => {
    const path = join(folder, name);
    writeFileSync(path, text);
    return path;
  });
}

// Run by itself: node write-schemas.js FOLDER
if (process.argv[1] === fileURLToPath(import.meta.url)) {
  console.log(writeSchemas(process.argv[2] ?? '.').join('\n'));
}
