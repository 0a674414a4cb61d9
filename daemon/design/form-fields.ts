import type { z } from 'zod';
import { countedBy } from './allowed.js';
import { choicesAt, groupIn, type FormChoice, type FormValue, type Written } from './form-choices.js';
import { labelAt, unitOf } from './form-labels.js';

/** One value of a design, as a form shows it. */
export interface FormField {
  readonly path: readonly string[];
  readonly label: string;
  /** Beside the field; empty for none. */
  readonly unit: string;
  readonly help: string;
  /** `mixed`: a number, or one of the choices. */
  readonly kind: 'number' | 'text' | 'choice' | 'mixed';
  /** As written; null when it isn't. */
  readonly value: string | number | null;
  /** What is taken while nothing is written; null when it must be written or nothing is taken. */
  readonly assumed: string | null;
  readonly choices: readonly FormChoice[];
  /** Whether it may be left out. */
  readonly optional: boolean;
}

type Schema = z.core.$ZodType;
type Def = z.core.$ZodTypes['_zod']['def'];

/** A schema without what is wrapped around it. */
interface Bare {
  readonly schema: Schema;
  readonly optional: boolean;
  readonly fallback: unknown;
  readonly help: string;
}

function defOf(schema: Schema): Def {
  return schema._zod.def as Def;
}

function bare(schema: Schema): Bare {
  const def = defOf(schema);
  const help = (schema as z.ZodType).description ?? '';
  if (def.type === 'optional' || def.type === 'default') {
    const inner = bare(def.innerType);
    const fallback = def.type === 'default' ? def.defaultValue : inner.fallback;
    return { ...inner, optional: true, fallback, help: help || inner.help };
  }
  if (def.type === 'pipe') return { ...bare(def.in), help: help || bare(def.in).help };
  return { schema, optional: false, fallback: undefined, help };
}

/** What fields of a form need beside their schema and place. */
export interface FormPlace {
  readonly path: readonly string[];
  /** What stands at the path; undefined when nothing does. */
  readonly found: unknown;
  /** What stands for it while nothing does. */
  readonly fallback?: unknown;
  readonly whole: Written;
}

/** Every field at and below a path, in the order of the schema. Optional groups that aren't written have none. */
export function fieldsAt(schema: Schema, place: FormPlace): readonly FormField[] {
  const inner = bare(schema);
  const fallback = inner.fallback ?? place.fallback;
  const at = { ...place, fallback };
  const def = defOf(inner.schema);
  if (def.type === 'object') {
    if (place.found === undefined && inner.optional && fallback === undefined) return [];
    return Object.entries(def.shape).flatMap(([key, each]) => fieldsAt(each, within(at, key)));
  }
  if (def.type === 'record') {
    return Object.keys(groupIn(place.found)).flatMap((key) => fieldsAt(def.valueType, within(at, key)));
  }
  return def.type === 'union' ? unionFields(inner, def.options, at) : [fieldOf(inner, [inner.schema], at)];
}

function within(place: FormPlace, key: string): FormPlace {
  return {
    path: [...place.path, key],
    found: groupIn(place.found)[key],
    fallback: groupIn(place.fallback)[key],
    whole: place.whole,
  };
}

/** A group's own fields when a group is written, with what else could stand there as a choice before them. */
function unionFields(inner: Bare, options: readonly Schema[], place: FormPlace): readonly FormField[] {
  const flat = options.flatMap((option) => {
    const def = defOf(option);
    return def.type === 'union' ? def.options : [option];
  });
  const groups = flat.filter((option) => defOf(bare(option).schema).type === 'object');
  const plain = flat.filter((option) => !groups.includes(option)).map((option) => bare(option).schema);
  const hasChoices = choicesAt(place.path, place.whole) !== null;
  const isGroup = typeof (place.found ?? place.fallback) === 'object';
  const own =
    !isGroup || (hasChoices && !place.path.includes('heatsink')) ? [fieldOf(inner, plain, place)] : [];
  const group = isGroup ? likest(groups, groupIn(place.found ?? place.fallback)) : undefined;
  return group === undefined
    ? own
    : [...own, ...fieldsAt(group, place).filter(({ path }) => path.at(-1) !== 'kind')];
}

/** The group that has the most of the written keys, and the same kind. */
function likest(groups: readonly Schema[], written: Written): Schema | undefined {
  const score = (option: Schema): number => {
    const def = defOf(option);
    if (def.type !== 'object') return 0;
    const kind = def.shape['kind'];
    const isKind = kind !== undefined && kind._zod.values?.has(written['kind'] as string) === true;
    return (isKind ? 100 : 0) + Object.keys(written).filter((key) => Object.hasOwn(def.shape, key)).length;
  };
  return [...groups].sort((a, b) => score(b) - score(a))[0];
}

function fieldOf(inner: Bare, plain: readonly Schema[], place: FormPlace): FormField {
  const { path, found, fallback, whole } = place;
  const number = plain.find((one) => defOf(one).type === 'number');
  const library = choicesAt(path, whole);
  const choices = library ?? plain.flatMap(wordsOf);
  return {
    path,
    label: labelAt(path),
    unit: number === undefined ? (path.at(-1) === 'hertz' ? 'Hz' : '') : unitOf(countedBy(number)),
    help: inner.help,
    kind: kindOf(plain, choices, path),
    value: scalarOf(found, choices),
    assumed: fallback === undefined || fallback === null ? null : shownAs(fallback, choices),
    choices,
    optional: inner.optional || (fallback !== undefined && fallback !== null),
  };
}

function kindOf(
  plain: readonly Schema[],
  choices: readonly FormChoice[],
  path: readonly string[],
): FormField['kind'] {
  const hasNumber = plain.some((one) => defOf(one).type === 'number');
  if (path.at(-1) === 'heatsink') return 'mixed';
  if (choices.length > 0) return 'choice';
  return hasNumber ? 'number' : 'text';
}

/** The fixed words or numbers of a schema. */
function wordsOf(schema: Schema): FormChoice[] {
  const def = defOf(schema);
  if (def.type !== 'enum' && def.type !== 'literal') return [];
  const words = def.type === 'enum' ? Object.values(def.entries) : def.values;
  return words
    .filter((word) => typeof word === 'string' || typeof word === 'number')
    .map((word) => ({ value: word, label: String(word) }));
}

/** A group shows as the choice of its kind, or as the one that has its keys. */
function scalarOf(found: unknown, choices: readonly FormChoice[]): string | number | null {
  if (typeof found === 'string' || typeof found === 'number') return found;
  if (Array.isArray(found)) return JSON.stringify(found);
  if (found === undefined || found === null) return null;
  return choices.find(({ value }) => isLike(value, groupIn(found)))?.label ?? null;
}

function isLike(value: FormValue, found: Written): boolean {
  if (typeof value !== 'object') return false;
  if ('kind' in value) return value['kind'] === found['kind'];
  return Object.keys(value).some((key) => Object.hasOwn(found, key));
}

function shownAs(fallback: unknown, choices: readonly FormChoice[]): string {
  return String(scalarOf(fallback, choices) ?? '');
}
