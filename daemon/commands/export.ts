import { BadUse, EXIT, numberArgument, readArguments, wordArgument, type Command } from '../command-line.js';
import { columnsCsv } from '../record/export/columns.js';
import { sessionJson } from '../record/export/json.js';
import { readingsCsv } from '../record/export/readings.js';
import { readRecording } from '../record/reader.js';
import { writeOutput } from './output.js';
import { tellingProblems, withRecording } from './recording-problems.js';

const USAGE = 'railminder export RECORDING [--csv readings|columns] [--every MS] [--json] [-o FILE]';

/** A recording as a file that other programs read. */
export const exportCommand: Command = {
  name: 'export',
  does: 'turns a recording into CSV for a spreadsheet, or JSON',
  help: `${USAGE}

Writes RECORDING as CSV (RFC 4180, UTF-8 without a byte order mark, decimal points) to standard output or FILE.

  --csv columns    one column for each test point, one line for each second, means (the default)
  --csv readings   one line for each reading, exactly as recorded
  --every MS       with columns: how much time a line stands for (default 1000)
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
        json: { type: 'boolean', default: false },
        output: { type: 'string', short: 'o' },
      },
      { atLeast: 1, atMost: 1 },
    );
    const shape = wordArgument('csv', values.csv ?? 'columns', ['columns', 'readings']);
    const everyMs = numberArgument('every', values.every ?? '1000', { low: 1, high: 86_400_000 });
    if (values.json && values.csv !== undefined) throw new BadUse('give --csv or --json, not both');
    const file = positionals[0] ?? '';
    let problems = 0;
    const items = tellingProblems(readRecording(file), (why) => {
      problems += 1;
      console.error(why);
    });
    const chunks = values.json
      ? sessionJson(items)
      : shape === 'readings'
        ? readingsCsv(items)
        : columnsCsv(items, everyMs);
    await withRecording(() => writeOutput(values.output ?? null, chunks, file));
    return problems > 0 ? EXIT.outside : EXIT.fine;
  },
};
