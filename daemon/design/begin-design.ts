import { isMap } from 'yaml';
import { withRail } from './add-rail.js';
import type { Design } from './design.js';
import { designText, type NewSource } from './new-design.js';
import { newDesignQuestions, railQuestions, type Questions } from './new-questions.js';
import { yamlDocument } from './yaml-text.js';

/** An answer as it was typed, under the name of its field; empty takes the suggestion. */
export interface FieldAnswer {
  readonly field: string;
  readonly typed: string;
}

/** What came of the answers, or what was wrong with them, by field. */
export type Answered<T> =
  | { readonly value: T; readonly complaints: null }
  | { readonly value: null; readonly complaints: Complaints };
export type Complaints = Readonly<Record<string, string>>;

/** What a rail needs to be told; the rest of its questions take their suggestions. */
export interface RailFields {
  readonly name: string;
  readonly volts: string;
  readonly full: string;
}

export interface NewDesignFields {
  readonly name: string;
  readonly mains: string;
  readonly volts: string;
  readonly va: string;
  readonly capacity_uF: string;
  readonly rails: readonly RailFields[];
}

/** Typical and idle load, regulator, heatsink, most volts. */
const SUGGESTED_OF_RAIL = 5;

/** The text of a design from the questions of `design new`. */
export function begunDesign(fields: NewDesignFields): Answered<string> {
  const { name, mains, volts, va, capacity_uF, rails } = fields;
  const answers = [
    ...Object.entries({ name, mains, volts, va, capacity_uF }).map(([field, typed]) => ({ field, typed })),
    { field: 'rails', typed: String(rails.length) },
    ...rails.flatMap((rail, i) => railAnswers(rail, `rails.${i}.`)),
  ];
  const answered = answeredBy(newDesignQuestions(), answers);
  return answered.value === null ? answered : { value: designText(answered.value), complaints: null };
}

/** The text of a design with one more rail. @param design what `text` says */
export function designWithRail(text: string, design: Design, rail: RailFields): Answered<string> {
  const before = Object.keys(design.rails).map((name) => ({ name }));
  const answered = answeredBy(railQuestions(sourceOf(design), before), railAnswers(rail, ''));
  if (answered.value === null) return answered;
  const rails: unknown = yamlDocument(text).get('rails', true);
  if (!isMap(rails)) return { value: null, complaints: { name: 'the design has no group of rails yet' } };
  return { value: withRail(text, answered.value), complaints: null };
}

function railAnswers({ name, volts, full }: RailFields, prefix: string): FieldAnswer[] {
  const told = Object.entries({ name, volts, full }).map(([field, typed]) => ({
    field: prefix + field,
    typed,
  }));
  return [
    ...told,
    ...Array.from({ length: SUGGESTED_OF_RAIL }, () => ({ field: `${prefix}full`, typed: '' })),
  ];
}

function sourceOf({ mains, transformer, reservoir }: Design): NewSource {
  const { volts, va, amps = 1 } = transformer;
  return {
    mains: mains.volts > 180 ? 230 : 120,
    volts,
    va: va ?? volts * amps,
    capacity_uF: reservoir.capacity_uF,
  };
}

/** Answers one question after the other; one that is refused takes the suggestion, so that every complaint is heard. */
function answeredBy<T>(questions: Questions<T>, answers: readonly FieldAnswer[]): Answered<T> {
  const complaints: Record<string, string> = {};
  let step = questions.next('');
  for (const { field, typed } of answers) {
    if (step.done === true) break;
    step = questions.next(typed);
    if (step.done === true || step.value.complaint === null) continue;
    complaints[field] ??= step.value.complaint;
    step = questions.next('');
    if (step.done !== true && step.value.complaint !== null) break;
  }
  if (Object.keys(complaints).length > 0) return { value: null, complaints };
  if (step.done !== true) return { value: null, complaints: { rails: 'something is missing here' } };
  return { value: step.value, complaints: null };
}
