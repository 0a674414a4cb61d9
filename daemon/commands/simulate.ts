import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { benchForDesign } from '../bench-for-design.js';
import { BadUse, EXIT, numberArgument, readArguments, wordArgument, type Command } from '../command-line.js';
import type { BenchLink } from '../design/bench.js';
import { LOAD_STATES } from '../design/design.js';
import { loadBench } from '../design/load.js';
import { readDesign } from '../files.js';
import { untilInterrupted } from '../interrupt.js';
import { writeNew } from '../new-file.js';
import { troubleWords } from '../record/trouble.js';
import { scaledClock } from '../../drivers/simulated/clock.js';
import { SIMULATED_FAULTS } from '../../drivers/simulated/faults.js';
import { serveSimulatedBench, type ServedBench } from '../../drivers/simulated/serve-bench.js';
import {
  startSimulatedBench,
  type SimulatedBench,
  type SimulatedBenchOptions,
} from '../../drivers/simulated/simulated-bench.js';

const USAGE =
  'railminder simulate DESIGN [--fault NAME] [--rail RAIL] [--load STATE] [--speed N] [--seed N] [--tcp]';

/** Makes a bench of simulated instruments that other programs find as devices. */
export const simulateCommand: Command = {
  name: 'simulate',
  does: 'makes simulated instruments around a simulated supply, for trying watch',
  help: `${USAGE}

Switches on a simulated supply built from DESIGN and puts instruments around it: a meter that speaks SCPI and boards
that print lines. Each gets a device path (a pseudo-terminal), or a TCP port where the system has none. Prints the
paths and the watch command that reads them. Nothing here is connected to any real supply.

  --fault NAME   ${SIMULATED_FAULTS.map(({ name }) => name).join(', ')}
  --rail RAIL    the rail that the fault strikes
  --load STATE   idle, typical (the default) or full
  --speed N      how many times faster than life the supply heats, 1 to 100 (default 1)
  --seed N       draws the parts within their tolerance (default 0: every part as written)
  --tcp          TCP ports even where there are pseudo-terminals

Ctrl-C ends it.`,
  async run(args) {
    const { values, positionals } = readArguments(
      args,
      USAGE,
      {
        fault: { type: 'string', default: 'none' },
        rail: { type: 'string' },
        load: { type: 'string', default: 'typical' },
        speed: { type: 'string', default: '1' },
        seed: { type: 'string', default: '0' },
        tcp: { type: 'boolean', default: false },
      },
      { atLeast: 1, atMost: 1 },
    );
    const design = readDesign(positionals[0] ?? '');
    const fault = wordArgument(
      'fault',
      values.fault,
      SIMULATED_FAULTS.map(({ name }) => name),
    );
    const placeholder = benchForDesign(design.value, () => ({ tcp: 'localhost:1' }));
    const bench = startOrRefuse({
      design: design.value,
      bench: loadBench(placeholder, 'simulated.bench.yaml'),
      clock: scaledClock(numberArgument('speed', values.speed, { low: 1, high: 100 })),
      seed: numberArgument('seed', values.seed, { low: 0, high: 2 ** 31 }),
      fault,
      ...(values.rail !== undefined && {
        faultRail: wordArgument('rail', values.rail, Object.keys(design.value.rails)),
      }),
      load: wordArgument('load', values.load, LOAD_STATES),
    });
    const { served, benchFile, folder } = await servedOrStopped(bench, values.tcp, (instruments) => {
      const linkOf = new Map(instruments.map(({ instrument, link }) => [instrument, link]));
      return benchForDesign(design.value, (name) => linkOf.get(name) ?? { tcp: 'localhost:1' });
    });
    console.log(`Simulated supply "${design.value.design}", fault: ${fault}. Its instruments:`);
    for (const { instrument, link } of served.instruments) {
      console.log(`  ${instrument.padEnd(10)}${linkPlace(link)}`);
    }
    console.log(
      `Watch it from another terminal:\n  railminder watch ${design.file} --bench ${benchFile}\nCtrl-C ends it.`,
    );
    await untilInterrupted();
    await served.stop();
    rmSync(folder, { recursive: true, force: true });
    return EXIT.fine;
  },
};

interface Served {
  readonly served: ServedBench;
  readonly folder: string;
  readonly benchFile: string;
}

/** Serves the bench and writes the file that names its devices, or stops it: what runs would keep the program up. */
async function servedOrStopped(
  bench: SimulatedBench,
  overTcp: boolean,
  textFor: (instruments: ServedBench['instruments']) => string,
): Promise<Served> {
  let stop = (): Promise<void> => bench.stop();
  let folder = null;
  try {
    folder = benchFolder();
    const benchFile = join(folder, 'simulated.bench.yaml');
    const served = await serveSimulatedBench(bench, overTcp ? { as: 'tcp' } : {});
    stop = () => served.stop();
    writeNew(benchFile, textFor(served.instruments));
    return { served, folder, benchFile };
  } catch (error) {
    await stop();
    if (folder !== null) rmSync(folder, { recursive: true, force: true });
    throw error;
  }
}

/** Where the bench file goes that names the devices. @throws {BadUse} when it can't be made. */
function benchFolder(): string {
  try {
    return mkdtempSync(join(tmpdir(), 'railminder-simulated-'));
  } catch (error) {
    throw new BadUse(
      `${troubleWords(tmpdir(), error)}; or name another folder for such files in the variable TMPDIR`,
    );
  }
}

/** @throws {BadUse} for a design that the simulated bench can't build. */
function startOrRefuse(options: SimulatedBenchOptions): SimulatedBench {
  try {
    return startSimulatedBench(options);
  } catch (error) {
    if (error instanceof RangeError) throw new BadUse(error.message);
    throw error;
  }
}

/** A simulated instrument is served as a device path or over TCP. */
function linkPlace(link: BenchLink): string {
  return 'tcp' in link ? link.tcp : 'serial' in link ? link.serial : '';
}
