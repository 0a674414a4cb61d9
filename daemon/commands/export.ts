import { BadUse, EXIT, numberArgument, readArguments, wordArgument, type Command } from '../command-line.js';
import { capturesCsv } from '../record/export/captures.js';
import { columnsCsv } from '../record/export/columns.js';
import { extremesCsv } from '../record/export/extremes.js';
import { sessionJson } from '../record/export/json.js';
import { readingsCsv } from '../record/export/readings.js';
import { openOverview } from '../record/index/overview.js';
import { readRecording } from '../record/reader.js';
import { VERSION } from '../version.js';
import { writeOutput } from './output.js';
import { tellingProblems, withRecording } from './recording-problems.js';
import { timeArgument } from './time-argument.js';

const USAGE =
  'railminder export RECORDING [--csv columns|readings|captures|extremes] [--every MS] [--from TIME] [--to TIME] [--most N] [--json] [-o FILE]';

const TABLES = { columns: columnsCsv, readings: readingsCsv, captures: capturesCsv } as const;

/** A recording as a file that other programs read. */
export const exportCommand: Command = {
  name: 'export',
  does: 'turns a recording into CSV for a spreadsheet, or JSON',
  help: `${USAGE}

Writes RECORDING as CSV (RFC 4180, UTF-8 without a byte order mark, decimal points) to standard output or FILE.

  --csv columns    one column for each test point, one line for each second, means (the default)
  --csv readings   one line for each reading, exactly as recorded
  --csv captures   one line for each sample of each captured waveform
  --csv extremes   lowest, mean and highest of each channel over equal stretches of time, for drawing it
  --every MS       with columns: how much time a line stands for (default 1000)
  --from, --to     with extremes: only this time, 90 (seconds), 1:30 or 1:02:05 (default: the whole session)
  --most N         with extremes: in at most so many lines for each channel and test point (default 600)
  --json           header and events as one JSON document
  -o FILE          writes there, in place of an older file

Times are ISO 8601 with their offset, and seconds since the session's start. A gap stays empty.
Damaged places are told on standard error; exit code 1 then.`,
  async run(args) {
    const { values, positionals } = readArguments(
      args,
      USAGE,
      {
        csv: { type: 'string' },
        every: { type: 'string' },
        from: { type: 'string' },
        to: { type: 'string' },
        most: { type: 'string' },
        json: { type: 'boolean', default: false },
        output: { type: 'string', short: 'o' },
      },
      { atLeast: 1, atMost: 1 },
    );
    const shape = wordArgument('csv', values.csv ?? 'columns', [
      'columns',
      'readings',
      'captures',
      'extremes',
    ]);
    const everyMs = numberArgument('every', values.every ?? '1000', { low: 1, high: 86_400_000 });
    if (values.json && values.csv !== undefined) throw new BadUse('give --csv or --json, not both');
    const file = positionals[0] ?? '';
    const told = new Told();
    const chunks = values.json
      ? sessionJson(told.items(file))
      : shape === 'extremes'
        ? await withRecording(() => extremesOf(file, values, told))
        : TABLES[shape](told.items(file), everyMs);
    await withRecording(() => writeOutput(values.output ?? null, chunks, file));
    return told.count > 0 ? EXIT.outside : EXIT.fine;
  },
};

/** Counts the problems that were told on standard error. */
class Told {
  count = 0;

  say(why: string): void {
    this.count += 1;
    console.error(why);
  }

  items(file: string): ReturnType<typeof readRecording> {
    return tellingProblems(readRecording(file), (why) => this.say(why));
  }
}

interface StretchValues {
  readonly from?: string | undefined;
  readonly to?: string | undefined;
  readonly most?: string | undefined;
}

async function extremesOf(file: string, values: StretchValues, told: Told): Promise<AsyncIterable<string>> {
  const most = numberArgument('most', values.most ?? '600', { low: 1, high: 1_000_000 });
  const fromMs = timeArgument('from', values.from ?? '0');
  const overview = await openOverview(file, `railminder ${VERSION}`);
  // One more, since the end isn't counted in.
  const toMs = values.to === undefined ? overview.lengthMs + 1 : timeArgument('to', values.to);
  if (toMs <= fromMs) throw new BadUse(`--to: the stretch ends before it begins; give a time after --from`);
  for (const { why } of overview.problems) told.say(why);
  return extremesCsv(overview, { fromMs, toMs, most });
}
