import { joinInstruments } from '../channels.js';
import { BadUse, EXIT, numberArgument, readArguments, wordArgument, type Command } from '../command-line.js';
import { LOAD_STATES, type Design } from '../design/design.js';
import { testPointsOf } from '../design/test-points.js';
import { readBench, readDesign, recordingsBeside } from '../files.js';
import { linkFor } from '../links.js';
import { canMeasure } from '../measurable.js';
import { meterByHand } from '../meter-by-hand.js';
import { loadOutsideDrivers } from '../outside-drivers.js';
import { attendAtTerminal } from '../powerup-terminal.js';
import { suggestedLamp } from '../procedure/lamp.js';
import { procedureOf } from '../procedure/procedure.js';
import type { ProcedureOptions } from '../procedure/step-maker.js';
import { PAGE_HELP, PAGE_OPTIONS, PAGE_USAGE, pageAddress } from '../page-options.js';
import { runSession } from '../run-session.js';
import { systemClock } from '../../drivers/system-clock.js';

const USAGE = `railminder powerup DESIGN [--bench BENCH] [--lamp WATTS|none] [--load STATE] [--recordings FOLDER] [--trust-drivers] [--trust-hooks]
    ${PAGE_USAGE}`;

/** Walks a person through the first power-up. */
export const powerupCommand: Command = {
  name: 'powerup',
  does: 'walks you through the first power-up of DESIGN, step by step, and records it',
  help: `${USAGE}

Cold checks, lamp limiter, transformer alone, raw DC, rails without load, dummy loads, soak, the real loads last, lid,
sign-off: what to do, what to mind, what must read what in that state. Values are kept by themselves when they stand
still, and the next step begins only when all is inside, or you write down why you go on all the same.

Without --bench it asks for one reading after the other: read your own meter and type what it shows.

  --bench BENCH         which instruments are on the table
  --lamp WATTS          the lamp in your limiter (default: about the transformer's VA), or none
  --load STATE          what the real loads draw at the end: idle, typical (the default) or full
${PAGE_HELP}
  --recordings FOLDER   where the recording goes
  --trust-drivers       lets BENCH name drivers from outside: programs that run as you
  --trust-hooks         lets BENCH name hooks that are told of alarms: programs that run as you

Keys: n or Enter next, o override with a reason, b back, a abort, c another check, t a named reading
("logic.volts 5.02"), q quit. Numbers and OL answer what is asked; y and n answer yes and no.
Exit code 0 when it was signed off and nothing was outside, else 1.

Mains voltage kills. Follow your local code; if you are not qualified for mains work, let someone who is do it.
Nothing here replaces a fuse, a lamp limiter or a person.`,
  async run(args) {
    const { values, positionals } = readArguments(
      args,
      USAGE,
      {
        bench: { type: 'string' },
        lamp: { type: 'string' },
        load: { type: 'string', default: 'typical' },
        ...PAGE_OPTIONS,
        recordings: { type: 'string' },
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
    const load = wordArgument('load', values.load, LOAD_STATES);
    const procedure = procedureOf(design.value, {
      load,
      lamp: lampFrom(values.lamp, design.value),
      hasCutOff: Object.values(bench.value.outputs ?? {}).some(({ armed }) => armed),
      canMeasure: canMeasure(joinInstruments(bench, outsideDrivers), testPointsOf(design.value)),
    });
    const terminal = attendAtTerminal(process.stdin, process.stdout);
    const outside = await runSession({
      setup: {
        design,
        bench,
        outsideDrivers,
        load,
        procedure,
        clock,
        startedAt: new Date(),
        linkFor: ({ spec }) => linkFor(spec.link, clock),
        recordings: values.recordings ?? recordingsBeside(design.file),
      },
      page: pageAddress(values),
      speed: 1,
      demo: null,
      json: false,
      trustHooks: values['trust-hooks'],
      say: terminal.print,
      attend: terminal.attend,
    });
    return outside || !terminal.isSigned() ? EXIT.outside : EXIT.fine;
  },
};

/** @throws {BadUse} for what is neither watts nor none. */
function lampFrom(written: string | undefined, design: Design): ProcedureOptions['lamp'] {
  if (written === undefined) return suggestedLamp(design);
  if (written === 'none') return null;
  if (!/^\d/.test(written)) throw new BadUse(`--lamp: found "${written}"; watts or none is allowed`);
  return {
    ratedWatts: numberArgument('lamp', written, { low: 5, high: 1000 }),
    ratedVolts: design.mains.volts,
  };
}
