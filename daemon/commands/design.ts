import { createInterface } from 'node:readline';
import { BadUse, EXIT, readArguments, type Command } from '../command-line.js';
import { loadDesign } from '../design/load.js';
import { designText } from '../design/new-design.js';
import { newDesignQuestions } from '../design/new-questions.js';
import { answered } from '../dialogue.js';
import { newFileName, refuseExisting, writeNew } from '../new-file.js';

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
      const path = file ?? newFileName(design.name, 'design');
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
