import { EXIT, readArguments, type Command } from '../command-line.js';
import { recordingsBeside } from '../files.js';
import { findingsOf, type Finding } from '../machine/findings.js';
import { lookAtMachine } from '../machine/look.js';
import { USUAL_PORT } from '../serve/port.js';
import { resolve } from 'node:path';

const USAGE = 'railminder check [DESIGN] [--recordings FOLDER] [--json]';

/** Looks at the machine before a session counts on it. */
export const checkCommand: Command = {
  name: 'check',
  does: 'looks at this machine: rights on the ports, disk, clock, page; says how to mend each',
  help: `${USAGE}

Looks at what a session needs of this machine and says how to mend what isn't fine. Opens no instrument.

  --recordings FOLDER   where recordings will go (default: recordings/ beside DESIGN, or in this folder)
  --json                as JSON on standard output

Exit code 1 when something should be mended.`,
  async run(args) {
    const { values, positionals } = readArguments(
      args,
      USAGE,
      { recordings: { type: 'string' }, json: { type: 'boolean', default: false } },
      { atLeast: 0, atMost: 1 },
    );
    const folder = resolve(values.recordings ?? recordingsBeside(positionals[0] ?? 'any'));
    const findings = findingsOf(await lookAtMachine(folder, USUAL_PORT));
    if (values.json) console.log(JSON.stringify(findings, null, 2));
    else for (const finding of findings) console.log(findingLines(finding));
    return findings.some(({ state }) => state === 'mend') ? EXIT.outside : EXIT.fine;
  },
};

const WORDS: Readonly<Record<Finding['state'], string>> = { fine: 'fine', mend: 'mend', unknown: 'look' };

function findingLines({ subject, state, words, cure }: Finding): string {
  const line = `${WORDS[state]}  ${subject}: ${words}`;
  return cure === null ? line : `${line}\n      ${cure}`;
}
