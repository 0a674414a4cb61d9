import { parseArgs, type ParseArgsConfig } from 'node:util';

/** Exit codes: it went fine; it ran and something is outside; bad use or a bad file; a defect (sysexits.h, EX_SOFTWARE). */
export const EXIT = { fine: 0, outside: 1, badUse: 2, defect: 70 } as const;
export type ExitCode = (typeof EXIT)[keyof typeof EXIT];

/** Bad use of the command line, or a file that can't be used: printed without a stack, exit code 2. */
export class BadUse extends Error {
  override readonly name = 'BadUse';
}

/** One command of the program. */
export interface Command {
  readonly name: string;
  /** One line for the list of commands. */
  readonly does: string;
  /** What `--help` prints. */
  readonly help: string;
  run(args: readonly string[]): Promise<ExitCode>;
}

type Options = NonNullable<ParseArgsConfig['options']>;

type ReadArguments<T extends Options> = ReturnType<
  typeof parseArgs<{ args: string[]; options: T; allowPositionals: true; strict: true }>
>;

/**
 * Reads a command's arguments.
 * @throws {BadUse} naming the argument, with the command's usage line.
 */
export function readArguments<T extends Options>(
  args: readonly string[],
  usage: string,
  options: T,
  files: { readonly atLeast: number; readonly atMost: number },
): ReadArguments<T> {
  try {
    const parsed = parseArgs({ args: [...args], options, allowPositionals: true, strict: true });
    const count = parsed.positionals.length;
    if (count < files.atLeast) throw new Error('a file is missing');
    if (count > files.atMost)
      throw new Error(`"${parsed.positionals[files.atMost] ?? ''}" is one argument too many`);
    return parsed;
  } catch (error) {
    const message = error instanceof Error ? (error.message.split('. ')[0] ?? '') : String(error);
    throw new BadUse(`${message}\nUse: ${usage}`);
  }
}

/** @throws {BadUse} when the text isn't a number in the range. */
export function numberArgument(name: string, text: string, range: { low: number; high: number }): number {
  const value = Number(text);
  if (text.trim() === '' || !Number.isFinite(value) || value < range.low || value > range.high) {
    throw new BadUse(`--${name}: found "${text}"; a number from ${range.low} to ${range.high} is allowed`);
  }
  return value;
}

/** @throws {BadUse} when the text isn't one of the words. */
export function wordArgument<T extends string>(name: string, text: string, words: readonly T[]): T {
  const word = words.find((candidate) => candidate === text);
  if (word === undefined) throw new BadUse(`--${name}: found "${text}"; allowed are ${words.join(', ')}`);
  return word;
}
