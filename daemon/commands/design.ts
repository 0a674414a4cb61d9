import { existsSync, writeFileSync } from 'node:fs';
import { createInterface } from 'node:readline';
import { BadUse, EXIT, readArguments, type Command } from '../command-line.js';
import { loadDesign } from '../design/load.js';
import { designText } from '../design/new-design.js';
import { newDesignQuestions, type Question, type Questions } from '../design/new-questions.js';

const USAGE = 'railminder design new [FILE]';

/** Asks about a supply and writes its design file. */
export const designCommand: Command = {
  name: 'design',
  does: 'asks a few questions about a supply and writes its design file',
  help: `${USAGE}

Asks for mains, transformer, reservoir and rails. Enter alone takes what stands in brackets; what can't be is asked
again. Writes FILE, a commented *.design.yaml (without FILE: named after the supply, in this folder), and never
overwrites one. Ctrl-C ends it with nothing written.`,
  async run(args) {
    const { positionals } = readArguments(args, USAGE, {}, { atLeast: 1, atMost: 2 });
    const [what = '', file] = positionals;
    if (what !== 'new') throw new BadUse(`"${what}" is not known; allowed is new\nUse: ${USAGE}`);
    if (file !== undefined) refuseExisting(file);
    const lines = createInterface({ input: process.stdin, output: process.stdout });
    try {
      // At a terminal the person's own Enter ends the line.
      const end = process.stdin.isTTY ? '' : '\n';
      const print = (text: string) => process.stdout.write(`${text}${end}`);
      const design = await answered(newDesignQuestions(), lines[Symbol.asyncIterator](), print);
      if (design === null) throw new BadUse('\nNo more answers came; nothing was written.');
      const path = file ?? fileNameFor(design.name);
      const text = designText(design);
      // What it writes must load; a fault here is ours and would surprise the person later.
      loadDesign(text, path);
      writeNew(path, text);
      console.log(`\nWritten: ${path}. Look it over, then: railminder predict ${path}`);
      return EXIT.fine;
    } finally {
      lines.close();
    }
  },
};

/** Puts each question, hands its answer in; null when the lines end before the questions do. */
export async function answered<T>(
  questions: Questions<T>,
  lines: AsyncIterator<string>,
  print: (text: string) => void,
): Promise<T | null> {
  let step = questions.next('');
  while (step.done !== true) {
    print(prompt(step.value));
    const line = await lines.next();
    if (line.done === true) return null;
    step = questions.next(line.value);
  }
  return step.value;
}

function prompt({ text, suggestion, complaint }: Question): string {
  return `${complaint === null ? '' : `  ${complaint}\n`}${text} [${suggestion}] `;
}

/** `my supply` is written to `my-supply.design.yaml`. */
export function fileNameFor(name: string): string {
  const plain = name
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^-+|-+$/g, '')
    .slice(0, 60);
  return `${plain === '' ? 'supply' : plain}.design.yaml`;
}

function refuseExisting(file: string): void {
  if (existsSync(file))
    throw new BadUse(`${file}: stands there already and is never overwritten; name another file`);
}

/** @throws {BadUse} when the file exists by now, or its folder can't be written to. */
function writeNew(file: string, text: string): void {
  try {
    writeFileSync(file, text, { flag: 'wx' });
  } catch (error) {
    const code = error instanceof Error && 'code' in error ? String(error.code) : String(error);
    if (code === 'EEXIST') {
      throw new BadUse(`${file}: stands there already and is never overwritten; name another file`);
    }
    const why = code === 'ENOENT' ? 'there is no such folder' : `it can't be written (${code})`;
    throw new BadUse(`${file}: ${why}; name a file in a folder that you may write to`);
  }
}
