import { BadUse, EXIT, numberArgument, readArguments, wordArgument, type Command } from '../command-line.js';
import { LOAD_STATES } from '../design/design.js';
import { drawFaultClouds } from '../fault-clouds.js';
import type { FaultTask } from '../fault-worker.js';
import { readDesign } from '../files.js';
import { faultBands, type FaultBands } from '../predict/fault-clouds.js';
import { predict } from '../predict/predict.js';
import { predictionTable } from '../predict/print.js';
import { faultTable } from '../predict/print-faults.js';
import type { PredictOptions, Prediction } from '../predict/prediction.js';

const USAGE =
  'railminder predict DESIGN [--load idle|typical|full] [--mains VOLTS] [--ambient C] [--seed N] [--faults] [--json]';

/** Says what a supply should read and what will cook, before it is switched on. */
export const predictCommand: Command = {
  name: 'predict',
  does: 'says what each test point should read, and what will overheat or drop out',
  help: `${USAGE}

Computes from the parts in DESIGN (a *.design.yaml file) what every test point should read: low, typical and
high at 95 % coverage. Then the advice, most destructive first.

  --load STATE     how much the rails draw: idle, typical (the default) or full
  --mains VOLTS    the mains as you measured it, instead of the design's with its tolerance
  --ambient C      the air around it as you measured it, in degrees C
  --seed N         starts the draws elsewhere; the same seed gives the same numbers
  --faults         also what each known fault of this supply would read, and where it would show
  --json           everything as JSON on standard output

Exit code 1 when a test point is predicted beyond a limit, or the advice names something that will be destroyed.`,
  async run(args) {
    const { values, positionals } = readArguments(
      args,
      USAGE,
      {
        load: { type: 'string', default: 'typical' },
        mains: { type: 'string' },
        ambient: { type: 'string' },
        seed: { type: 'string' },
        faults: { type: 'boolean', default: false },
        json: { type: 'boolean', default: false },
      },
      { atLeast: 1, atMost: 1 },
    );
    const design = readDesign(positionals[0] ?? '');
    const options: PredictOptions = {
      load: wordArgument('load', values.load, LOAD_STATES),
      ...(values.mains !== undefined && {
        mainsVolts: numberArgument('mains', values.mains, { low: 1, high: 1000 }),
      }),
      ...(values.ambient !== undefined && {
        ambient: numberArgument('ambient', values.ambient, { low: -40, high: 100 }),
      }),
      ...(values.seed !== undefined && {
        seed: numberArgument('seed', values.seed, { low: 0, high: 2 ** 32 - 1 }),
      }),
    };
    const prediction = predict(design.value, options);
    const faults = values.faults ? await faultsOf({ design: design.value, options }) : null;
    if (values.json) console.log(JSON.stringify({ ...prediction, ...(faults && { faults }) }, null, 2));
    else console.log(predictionTable(prediction));
    if (!values.json && faults) console.log(`\n${faultTable(prediction, faults)}`);
    return somethingOutside(prediction) ? EXIT.outside : EXIT.fine;
  },
};

/** @throws {BadUse} when the thread that draws them can't be started or fails. */
async function faultsOf(task: FaultTask): Promise<FaultBands[]> {
  const faults: FaultBands[] = [];
  try {
    await drawFaultClouds(task, (cloud) => faults.push(faultBands(cloud)));
  } catch (problem) {
    const why = problem instanceof Error ? problem.message : String(problem);
    throw new BadUse(
      `--faults: what each fault reads can't be worked out (${why}); end other programs, or leave --faults out`,
    );
  }
  return faults;
}

function somethingOutside({ points, advice }: Prediction): boolean {
  const beyond = Object.values(points).some(({ typical, limits }) =>
    limits.some(({ side, value }) => (side === 'high' ? typical >= value : typical <= value)),
  );
  return beyond || advice.some(({ severity }) => severity === 'destroys');
}
