import { EXIT, readArguments, type Command } from '../command-line.js';
import { reportOf } from '../report-of.js';
import { readHistory } from '../record/session/history.js';
import { VERSION } from '../version.js';
import { writeOutput } from './output.js';
import { withRecording } from './recording-problems.js';

const USAGE = 'railminder report RECORDING [-o FILE]';

/** A recording as a page for the job file. */
export const reportCommand: Command = {
  name: 'report',
  does: 'makes one HTML page of a recording, to print and sign',
  help: `${USAGE}

Makes a page of RECORDING for the job file: predicted against measured with verdicts and uncertainty, temperature
curves, alarms and what was done, instruments, notes, and what it takes to compute it again. One file without scripts
or links; prints to A4 and Letter.

  -o FILE   where to (default: RECORDING with .html in place of .ndjson)

Exit code 1 when the recording is damaged; the page says where.`,
  async run(args) {
    const options = { output: { type: 'string', short: 'o' } } as const;
    const { values, positionals } = readArguments(args, USAGE, options, { atLeast: 1, atMost: 1 });
    const file = positionals[0] ?? '';
    const out = values.output ?? `${file.replace(/\.ndjson(\.gz)?$/, '')}.html`;
    return withRecording(async () => {
      const history = await readHistory(file);
      const page = await reportOf(file, history, `railminder ${VERSION}`);
      await writeOutput(out, [page], file);
      console.log(`${out} (${Math.ceil(Buffer.byteLength(page) / 1000)} kB)`);
      for (const { why } of history.problems) console.error(why);
      return history.problems.length > 0 ? EXIT.outside : EXIT.fine;
    });
  },
};
