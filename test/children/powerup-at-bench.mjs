// The signal cabin's power-up at this terminal on simulated instruments, with hands that do what each step says:
// node powerup-at-bench.mjs RECORDINGS FAULT
import { readFileSync } from 'node:fs';
import { loadBench, loadDesign } from '../../dist/daemon/design/load.js';
import { pageAddress } from '../../dist/daemon/page-options.js';
import { attendAtTerminal } from '../../dist/daemon/powerup-terminal.js';
import { suggestedLamp } from '../../dist/daemon/procedure/lamp.js';
import { procedureOf } from '../../dist/daemon/procedure/procedure.js';
import { runSession } from '../../dist/daemon/run-session.js';
import { pacedClock } from '../../dist/drivers/simulated/paced-clock.js';
import { startSimulatedBench } from '../../dist/drivers/simulated/simulated-bench.js';

const [recordings, fault] = process.argv.slice(2);
const SPEED = 100;
const HANDS_OFF_MS = 20_000;
const EXAMPLE = new URL('../../daemon/design/examples/signal-cabin/signal-cabin', import.meta.url).href;

const read = (kind, load) => {
  const file = `signal-cabin.${kind}.yaml`;
  const text = readFileSync(new URL(`${EXAMPLE}.${kind}.yaml`), 'utf8');
  return { file, text, value: load(text, file) };
};
const design = read('design', loadDesign);
const bench = read('bench', (text, file) => loadBench(text, file, design.value));
const clock = pacedClock(SPEED);
const table = startSimulatedBench({
  design: design.value,
  bench: bench.value,
  clock,
  load: 'idle',
  power: 'off',
  fault,
  ...(fault === 'none' ? {} : { faultRail: 'logic' }),
});

/** What hangs on the rails in each step that the hands change something for. */
const LOADS = { raw: 'idle', rails: 'idle', 'dummy-load': 'full', 'real-load': 'typical', lid: 'typical' };

/** Plug out, change what the step says, wait, plug in. */
function doByHand(kind) {
  const load = LOADS[kind];
  if (load === undefined) return;
  table.power('off');
  // What isn't connected yet is not looked at: the simulated supply always has its regulators.
  if (kind === 'raw') void table.unplug('rails');
  if (kind === 'rails') void table.plugIn('rails');
  clock.after(HANDS_OFF_MS, () => {
    table.setLoad(load);
    table.power('on');
  });
}

const terminal = attendAtTerminal(process.stdin, process.stdout);
const outside = await runSession({
  setup: {
    design,
    bench,
    load: 'typical',
    clock,
    startedAt: new Date(),
    linkFor: ({ name }) => table.linkFor(name),
    recordings,
    procedure: procedureOf(design.value, {
      load: 'typical',
      lamp: suggestedLamp(design.value),
      hasCutOff: false,
      canMeasure: (point) => /\.(volts|case)$/.test(point),
    }),
  },
  page: pageAddress({ port: '0' }),
  trustHooks: false,
  speed: SPEED,
  demo: null,
  json: false,
  say: terminal.print,
  attend(session, say) {
    session.onStep((_event, { plan }, effects) => {
      for (const effect of effects) {
        if (effect.kind !== 'step') continue;
        const step = plan.procedure.steps.find(({ id }) => id === effect.step);
        if (effect.change === 'began') doByHand(step.kind);
        if (effect.change === 'aborted') table.power('off');
      }
    });
    return terminal.attend(session, say);
  },
});
await table.stop();
console.log(`\nEXIT ${outside || !terminal.isSigned() ? 1 : 0}`);
process.exit();
