import type { z } from 'zod';
import { designSchema } from './design.js';
import { fieldsAt, type FormField } from './form-fields.js';
import { groupIn, type Written } from './form-choices.js';
import { anyRail } from './form-labels.js';
import { regulatorOf, type KnownRegulator } from './form-regulator.js';

/** A part of the supply with its fields. */
export interface FormGroup {
  readonly path: readonly string[];
  readonly title: string;
  /** What a person fills in. */
  readonly fields: readonly FormField[];
  /** What can be left to its default. */
  readonly more: readonly FormField[];
}

const TITLES: Readonly<Record<string, string>> = {
  design: 'The supply',
  mains: 'Mains',
  transformer: 'Transformer',
  rectifier: 'Rectifier',
  reservoir: 'Reservoir',
  negative_reservoir: 'Negative reservoir',
  filter: 'Ripple filter',
  heatsinks: 'Shared heatsinks',
  parts: 'Parts of your own',
  points: 'Test points',
};

/** May be left out, and are worth a look all the same. */
const WORTH_A_LOOK = new Set([
  'transformer.va',
  'transformer.regulation_percent',
  'transformer.fuse_amps',
  'reservoir.working_volts',
  'reservoir.ripple_amps',
  'reservoir.bleed',
  'filter',
  'rails.*.r1',
  'rails.*.r2',
  'rails.*.damage.low',
  'rails.*.damage.high',
]);

/**
 * The form of a design as it is written: every value that the schema knows at a place, with units, choices and what is
 * taken while nothing is written. Nothing in `written` has to be right.
 */
export function formOf(written: unknown): readonly FormGroup[] {
  const whole = groupIn(written);
  const { shape } = designSchema;
  return Object.entries(shape).flatMap(([key, schema]) => {
    if (key === 'defaulted') return [];
    if (key === 'rails') return railGroups(shape.rails.valueType, whole);
    const fields = fieldsAt(schema, { path: [key], found: whole[key], whole });
    return fields.length === 0 ? [] : [groupOf([key], TITLES[key] ?? key, fields, whole)];
  });
}

function railGroups(schema: z.core.$ZodType, whole: Written): FormGroup[] {
  return Object.entries(groupIn(whole['rails'])).map(([name, found]) => {
    const path = ['rails', name];
    return groupOf(path, `${name} rail`, fieldsAt(schema, { path, found, whole }), whole);
  });
}

function groupOf(
  path: readonly string[],
  title: string,
  fields: readonly FormField[],
  whole: Written,
): FormGroup {
  const fitting = fields.filter((field) => isFitting(field, whole));
  const isMain = (field: FormField) =>
    !field.optional || field.value !== null || WORTH_A_LOOK.has(anyRail(field.path));
  return { path, title, fields: fitting.filter(isMain), more: fitting.filter((field) => !isMain(field)) };
}

/** Fields that belong to other parts than those that are written would only be refused. */
function isFitting({ path, value }: FormField, whole: Written): boolean {
  if (value !== null) return true;
  const last = path.at(-1) ?? '';
  const transformer = groupIn(whole['transformer']);
  if (path[0] === 'transformer') {
    if (last === 'va' || last === 'amps')
      return transformer['va'] === undefined && transformer['amps'] === undefined;
    if (last === 'regulation_percent') return transformer['winding_ohms'] === undefined;
    if (last === 'winding_ohms') return transformer['regulation_percent'] === undefined;
  }
  if (path[0] !== 'rails' || path.length !== 3) return true;
  return fitsRegulator(last, regulatorOf(path[1] ?? '', whole));
}

function fitsRegulator(key: string, regulator: KnownRegulator): boolean {
  const adjustable = ['r1', 'r2', 'resistor_tolerance_percent', 'adjust_capacitor_uF'];
  return !adjustable.includes(key) || regulator === 'adjustable';
}
