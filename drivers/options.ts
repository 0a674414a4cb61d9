import type { OptionProblem } from './driver.js';

/** What one option may be. */
export interface OptionRule {
  /** In words, for the person who wrote the bench file. */
  readonly allowed: string;
  readonly accepts: (value: unknown) => boolean;
}

/** A whole or broken number from `low` to `high`. */
export function numberBetween(low: number, high: number, unit: string): OptionRule {
  return {
    allowed: `a number from ${low} to ${high} (${unit})`,
    accepts: (value) => typeof value === 'number' && value >= low && value <= high,
  };
}

/** Checks each option that is there against its rule; options without a rule are problems too. */
export function optionProblems(
  options: unknown,
  rules: Readonly<Record<string, OptionRule>>,
): readonly OptionProblem[] {
  const keys = Object.keys(rules).join(', ');
  if (!isRecord(options)) return [{ key: 'options', found: options, allowed: `settings named ${keys}` }];
  return Object.entries(options).flatMap(([key, found]) => {
    const rule = Object.hasOwn(rules, key) ? rules[key] : undefined;
    if (rule === undefined) return [{ key, found, allowed: `one of ${keys}` }];
    return rule.accepts(found) ? [] : [{ key, found, allowed: rule.allowed }];
  });
}

/** One option's value; undefined when it isn't given. */
export function optionOf(options: unknown, key: string): unknown {
  return isRecord(options) && Object.hasOwn(options, key) ? options[key] : undefined;
}

/** A number option that has been checked, or its default. */
export function numberOption(options: unknown, key: string, otherwise: number): number {
  const value = optionOf(options, key);
  return typeof value === 'number' ? value : otherwise;
}

/** Whether options, or a group within them, have keys. */
export function isRecord(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
