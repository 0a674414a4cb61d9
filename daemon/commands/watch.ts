import { EXIT, readArguments, wordArgument, type Command } from '../command-line.js';
import { LOAD_STATES } from '../design/design.js';
import { readBench, readDesign, recordingsBeside } from '../files.js';
import { linkFor } from '../links.js';
import { loadOutsideDrivers } from '../outside-drivers.js';
import { meterByHand } from '../meter-by-hand.js';
import { PAGE_HELP, PAGE_OPTIONS, PAGE_USAGE, pageAddress } from '../page-options.js';
import { runSession } from '../run-session.js';
import { systemClock } from '../../drivers/system-clock.js';

const USAGE = `railminder watch DESIGN [--bench BENCH] [--load STATE] [--recordings FOLDER] [--json] [--trust-drivers] [--trust-hooks]
    ${PAGE_USAGE}`;

/** Watches a real bench until the person ends it. */
export const watchCommand: Command = {
  name: 'watch',
  does: 'reads your instruments, compares with what DESIGN predicts, raises alarms, records',
  help: `${USAGE}

Reads the instruments that BENCH (a *.bench.yaml file) names and compares each test point with what DESIGN predicts.
Prints the address of the page, and a line for each alarm. The recording goes to recordings/ beside DESIGN.

Without --bench it asks for one test point after the other: read your own meter, type what it shows on the page or here.

  --bench BENCH         which instruments are on the table
  --load STATE          how much the rails draw: idle, typical (the default) or full
${PAGE_HELP}
  --recordings FOLDER   where the recording goes
  --json                every effect as one line of JSON on standard output; the rest goes to standard error
  --trust-drivers       lets BENCH name drivers from outside, ./my-meter.mjs for example: programs that run as you
  --trust-hooks         lets BENCH name hooks that are told of alarms: programs that run as you, addresses that are posted to

At a terminal: a acknowledges, s puts an alarm aside, l sets the load, c is for the cut-off, ? lists the keys.
Ctrl-C ends it and closes the recording. Exit code 1 when something was beyond a limit or outside its prediction.

Mains voltage kills and hot parts burn: your local code and licensed people decide what may be connected. An alarm
here replaces no fuse, no lamp limiter and no person.`,
  async run(args) {
    const { values, positionals } = readArguments(
      args,
      USAGE,
      {
        bench: { type: 'string' },
        load: { type: 'string', default: 'typical' },
        ...PAGE_OPTIONS,
        recordings: { type: 'string' },
        json: { type: 'boolean', default: false },
        'trust-drivers': { type: 'boolean', default: false },
        'trust-hooks': { type: 'boolean', default: false },
      },
      { atLeast: 1, atMost: 1 },
    );
    const design = readDesign(positionals[0] ?? '');
    const clock = systemClock();
    const bench =
      values.bench === undefined ? meterByHand(design.value) : readBench(values.bench, design.value);
    const outsideDrivers = await loadOutsideDrivers(bench, values['trust-drivers']);
    const outside = await runSession({
      setup: {
        design,
        bench,
        outsideDrivers,
        load: wordArgument('load', values.load, LOAD_STATES),
        clock,
        startedAt: new Date(),
        linkFor: ({ spec }) => linkFor(spec.link, clock),
        recordings: values.recordings ?? recordingsBeside(design.file),
      },
      page: pageAddress(values),
      speed: 1,
      demo: null,
      json: values.json,
      trustHooks: values['trust-hooks'],
    });
    return outside ? EXIT.outside : EXIT.fine;
  },
};
