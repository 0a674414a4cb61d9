import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { joinInstruments } from '../channels.js';
import { EXIT, numberArgument, readArguments, wordArgument, type Command } from '../command-line.js';
import { lendHands } from '../demo-hands.js';
import { testPointsOf } from '../design/test-points.js';
import { readBench, readDesign } from '../files.js';
import { canMeasure } from '../measurable.js';
import type { DemoControl } from '../page.js';
import { suggestedLamp } from '../procedure/lamp.js';
import { procedureOf } from '../procedure/procedure.js';
import { PAGE_HELP, PAGE_OPTIONS, PAGE_USAGE, pageAddress } from '../page-options.js';
import { runSession } from '../run-session.js';
import { PACKAGE_FOLDER } from '../version.js';
import { pacedClock } from '../../drivers/simulated/paced-clock.js';
import { SIMULATED_FAULTS } from '../../drivers/simulated/faults.js';
import { startSimulatedBench, type SimulatedBench } from '../../drivers/simulated/simulated-bench.js';

const USAGE = `railminder demo [--fault NAME] [--powerup] [--speed N] ${PAGE_USAGE}`;
/** The rail whose regulator was put in without its heatsink. */
const STRICKEN_RAIL = 'logic';

/** The signal cabin's supply on simulated instruments: nothing to connect, nothing to break. */
export const demoCommand: Command = {
  name: 'demo',
  does: 'the signal cabin on simulated instruments (also what runs without a command)',
  help: `${USAGE}

A model railway's signal cabin: a 12 V lamp rail and a 5 V logic rail, whose regulator was put in without its
heatsink. All of it is simulated; it runs 20 times faster than life. Pick another fault, or none, on the page. Its Walk
view goes through a first power-up; simulated hands do what the steps say.

  --fault NAME          ${SIMULATED_FAULTS.map(({ name }) => name).join(', ')} (default heatsink-missing)
  --powerup             begins with the supply off, for the walk through its first power-up
  --speed N             how many times faster than life, 1 to 100 (default 20)
${PAGE_HELP}

Ctrl-C ends it. The recording goes to the system's temporary folder.`,
  async run(args) {
    const { values } = readArguments(
      args,
      USAGE,
      {
        fault: { type: 'string', default: 'heatsink-missing' },
        powerup: { type: 'boolean', default: false },
        speed: { type: 'string', default: '20' },
        ...PAGE_OPTIONS,
      },
      { atLeast: 0, atMost: 0 },
    );
    const speed = numberArgument('speed', values.speed, { low: 1, high: 100 });
    const fault = wordArgument(
      'fault',
      values.fault,
      SIMULATED_FAULTS.map(({ name }) => name),
    );
    const clock = pacedClock(speed);
    const design = readDesign(example('signal-cabin.design.yaml'));
    const bench = readBench(example('signal-cabin.bench.yaml'), design.value);
    const table = startSimulatedBench({
      design: design.value,
      bench: bench.value,
      clock,
      load: 'full',
      power: 'off',
      ...strike(fault),
    });
    await runSession({
      setup: {
        design,
        bench,
        load: 'full',
        procedure: procedureOf(design.value, {
          load: 'typical',
          lamp: suggestedLamp(design.value),
          hasCutOff: false,
          canMeasure: canMeasure(joinInstruments(bench), testPointsOf(design.value)),
        }),
        clock,
        startedAt: new Date(),
        linkFor: ({ name }) => table.linkFor(name),
        recordings: join(tmpdir(), 'railminder-demo'),
      },
      page: pageAddress(values),
      speed,
      demo: demoControl(table, fault),
      json: false,
      trustHooks: false,
      onReady(session) {
        lendHands(session, table, clock);
        if (!values.powerup) table.power('on');
      },
    });
    await table.stop();
    return EXIT.fine;
  },
};

function demoControl(table: SimulatedBench, firstFault: string): DemoControl {
  let fault = firstFault;
  return {
    view: () => ({ fault, faults: SIMULATED_FAULTS.map(({ name, title }) => ({ name, title })) }),
    switchFault(name) {
      const { fault: struck, faultRail } = strike(name);
      table.switchFault(struck, faultRail);
      fault = name;
    },
  };
}

function strike(fault: string): { fault: string; faultRail?: string } {
  const isOfRail = SIMULATED_FAULTS.some(({ name, strikes }) => name === fault && strikes !== null);
  return isOfRail ? { fault, faultRail: STRICKEN_RAIL } : { fault };
}

function example(file: string): string {
  return fileURLToPath(new URL(`daemon/design/examples/signal-cabin/${file}`, PACKAGE_FOLDER));
}
