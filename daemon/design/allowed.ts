import { z } from 'zod';

/**
 * Building blocks of the file schemas. The text given to each is what a message says is allowed there, so it
 * reads after "found -5;" and before "is allowed".
 */

/** What each number counts, `ohms`; a registry of our own, so that nothing of it stands in the JSON Schemas. */
const COUNTED = z.registry<{ readonly of: string }>();

/** What a number of a schema counts; empty when it wasn't said. */
export function countedBy(schema: z.core.$ZodType): string {
  return COUNTED.get(schema)?.of ?? '';
}

/** Notes what a number counts. */
export function counting<T extends z.ZodType>(of: string, schema: T): T {
  COUNTED.add(schema, { of });
  return schema;
}

/** A number above zero, of something: `positive('ohms')`. */
export function positive(of: string) {
  const error = `a positive number of ${of}`;
  return counting(of, z.number({ error }).positive({ error }));
}

/** Zero or more of something. */
export function notNegative(of: string) {
  const error = `zero or a positive number of ${of}`;
  return counting(of, z.number({ error }).nonnegative({ error }));
}

/** A number from low to high, both included. */
export function between(low: number, high: number, of: string) {
  const error = `a number from ${low} to ${high} (${of})`;
  return counting(of, z.number({ error }).min(low, { error }).max(high, { error }));
}

/** Any finite number of something. */
export function numberOf(of: string) {
  return counting(of, z.number({ error: `a number of ${of}` }));
}

/** A text of 1 to `longest` characters. */
export function text(what: string, longest = 120) {
  const error = `${what} (1 to ${longest} characters)`;
  return z.string({ error }).min(1, { error }).max(longest, { error });
}

/** A part's name. A bare 7805 is a number to YAML and is taken as the name "7805". */
export function partName(what: string) {
  return z.union([z.string(), z.number()], { error: what }).transform(String);
}

/** A group of named keys, no others. */
export function group<T extends z.core.$ZodLooseShape>(what: string, shape: T) {
  return z.strictObject(shape, { error: what });
}

/** Names of rails and instruments: they stand in test point ids, so no dots or blanks. */
export const name = z
  .string()
  .max(40, 'a name of at most 40 characters')
  .regex(/^[a-z][a-z0-9-]*$/, 'a name of small letters, digits and hyphens that begins with a letter');
