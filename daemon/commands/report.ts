import { basename } from 'node:path';
import { parse } from 'yaml';
import { EXIT, readArguments, type Command } from '../command-line.js';
import { fileSha256 } from '../record/file-hash.js';
import { readPieces } from '../record/reader.js';
import { reportPage } from '../record/report/report.js';
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
      const page = reportPage({
        history,
        title: designName(history.header.design.text) ?? history.header.design.file,
        files: await hashes(file),
        software: `railminder ${VERSION}`,
      });
      await writeOutput(out, [page], file);
      console.log(`${out} (${Math.ceil(Buffer.byteLength(page) / 1000)} kB)`);
      for (const { why } of history.problems) console.error(why);
      return history.problems.length > 0 ? EXIT.outside : EXIT.fine;
    });
  },
};

/** What the design calls itself, if its text can still be read. */
function designName(text: string): string | null {
  try {
    const found: unknown = parse(text);
    const name = typeof found === 'object' && found !== null && 'design' in found ? found.design : null;
    return typeof name === 'string' ? name : null;
  } catch {
    return null;
  }
}

/** Of every file of the session. */
async function hashes(file: string): Promise<{ name: string; sha256: string }[]> {
  const paths = new Set<string>();
  for await (const { path } of readPieces(file)) paths.add(path);
  return Promise.all(
    [...paths].map(async (path) => ({ name: basename(path), sha256: await fileSha256(path) })),
  );
}
