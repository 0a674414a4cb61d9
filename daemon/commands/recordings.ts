import { createReadStream, createWriteStream } from 'node:fs';
import { access, rename, rm } from 'node:fs/promises';
import { pipeline } from 'node:stream/promises';
import { createGzip } from 'node:zlib';
import { BadUse, EXIT, readArguments, type Command, type ExitCode } from '../command-line.js';
import { errorCode } from '../record/disk.js';
import { listRecordings, type Listed, type NotListed } from '../record/listing.js';
import { stateWords } from '../record/listing-words.js';
import { repairedLines, type RepairReport } from '../record/repair.js';
import { troubleWords, unreadableWords } from '../record/trouble.js';
import { spanWords } from '../record/session/time-of-day.js';
import { writeOutput } from './output.js';
import { withRecording } from './recording-problems.js';

const USAGE = 'railminder recordings [FOLDER] | repair FILE [-o FILE] | pack FILE';

/** What lies in a folder of recordings, and what to do for a damaged or a large one. */
export const recordingsCommand: Command = {
  name: 'recordings',
  does: 'lists recordings with outcome and whether they are intact; repair, pack',
  help: `${USAGE}

recordings [FOLDER]         lists the recordings of FOLDER (default: recordings): when, how long, how large, which
                            alarms, and whether each is as it was when it was closed. Exit code 1 when one isn't.
recordings repair FILE      writes a copy without the damaged lines, with a new seal; its header says what it is.
                            FILE is left as it is. Which number was changed can't be told, only that one was.
recordings pack FILE        writes FILE.gz, which every command here reads; FILE is left as it is.

  -o FILE   with repair: where the copy goes (default: FILE with -repaired before .ndjson)`,
  async run(args) {
    const [first, ...rest] = args;
    if (first === 'repair') return repair(rest);
    if (first === 'pack') return pack(rest);
    const { positionals } = readArguments(args, USAGE, {}, { atLeast: 0, atMost: 1 });
    return withRecording(() => list(positionals[0] ?? 'recordings'));
  },
};

async function list(folder: string): Promise<ExitCode> {
  const rows = [['recording', 'begun', 'length', 'size', 'state', 'alarms']];
  let isAllIntact = true;
  for await (const one of listRecordings(folder)) {
    isAllIntact &&= !('why' in one) && stateWords(one) === 'intact';
    rows.push(row(one));
  }
  if (rows.length === 1) console.log(`${folder}: no recordings (*.ndjson, *.ndjson.gz).`);
  else for (const line of table(rows)) console.log(line);
  return isAllIntact ? EXIT.fine : EXIT.outside;
}

function row(one: Listed | NotListed): string[] {
  if ('why' in one) return [one.file, '', '', '', 'no recording', one.why];
  const { file, header, lengthMs, bytes, raised } = one;
  const begun = header.startedAt.slice(0, 16).replace('T', ' ');
  const alarms = raised.length === 0 ? 'none' : raised.join(', ');
  return [file, begun, spanWords(lengthMs), sizeWords(bytes), stateWords(one), alarms];
}

function sizeWords(bytes: number): string {
  return bytes < 1e6 ? `${Math.ceil(bytes / 1e3)} kB` : `${(bytes / 1e6).toFixed(1)} MB`;
}

function table(rows: readonly (readonly string[])[]): string[] {
  const widths = [0, 1, 2, 3, 4].map((column) =>
    Math.max(...rows.map((cells) => cells[column]?.length ?? 0)),
  );
  return rows.map((cells) =>
    cells
      .map((cell, column) => cell.padEnd(widths[column] ?? 0))
      .join('  ')
      .trimEnd(),
  );
}

async function repair(args: readonly string[]): Promise<ExitCode> {
  const options = { output: { type: 'string', short: 'o' } } as const;
  const { values, positionals } = readArguments(args, USAGE, options, { atLeast: 1, atMost: 1 });
  const file = positionals[0] ?? '';
  const out = values.output ?? `${file.replace(/\.ndjson(\.gz)?$/, '')}-repaired.ndjson`;
  await refuseExisting(out);
  const report: RepairReport = { kept: 0, dropped: 0, altered: false };
  await withRecording(() => writeOutput(out, repairedLines(file, report), file));
  console.log(`${out}: ${report.kept} lines kept, ${report.dropped} damaged ones left out.`);
  if (report.altered) {
    console.log(
      'The original was changed after it was closed. Nobody can tell where: trust no single number.',
    );
  }
  return report.altered || report.dropped > 0 ? EXIT.outside : EXIT.fine;
}

async function pack(args: readonly string[]): Promise<ExitCode> {
  const { positionals } = readArguments(args, USAGE, {}, { atLeast: 1, atMost: 1 });
  const file = positionals[0] ?? '';
  const out = `${file}.gz`;
  await refuseExisting(out);
  const draft = `${out}.part`;
  try {
    await pipeline(createReadStream(file), createGzip({ level: 9 }), createWriteStream(draft));
    await rename(draft, out);
  } catch (error) {
    await rm(draft, { force: true });
    throw new BadUse(`${file}: ${packingTrouble(out, error)}`);
  }
  console.log(`${out} written; ${file} is still there.`);
  return EXIT.fine;
}

function packingTrouble(out: string, error: unknown): string {
  const isReading = error instanceof Error && 'syscall' in error && error.syscall === 'read';
  const isMissing = ['ENOENT', 'EISDIR'].includes(errorCode(error));
  return isReading || isMissing
    ? `${unreadableWords(error)}; name a recording, *.ndjson`
    : `it can't be packed: ${troubleWords(out, error)}`;
}

async function refuseExisting(out: string): Promise<void> {
  const exists = await access(out).then(
    () => true,
    () => false,
  );
  if (exists) throw new BadUse(`${out}: there is such a file already; move it or name another with -o`);
}
