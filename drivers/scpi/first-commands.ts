import { optionOf, type OptionRule } from '../options.js';

/** One command, no question: nobody would read its answer. */
const COMMAND = /^[\x20-\x3e\x40-\x7e]{1,80}$/;

/** The rule of the option `first_commands`: what a person has the instrument told before anything is asked. */
export function firstCommandsRule(most: number, example: string): OptionRule {
  return {
    allowed: `up to ${most} commands without answers, such as ${example}`,
    accepts: (value) =>
      Array.isArray(value) &&
      value.length <= most &&
      value.every((command) => typeof command === 'string' && COMMAND.test(command)),
  };
}

/** The commands that checked options have; none unless said. */
export function firstCommandsOf(options: unknown): readonly string[] {
  const commands = optionOf(options, 'first_commands');
  return Array.isArray(commands) ? commands.map(String) : [];
}
