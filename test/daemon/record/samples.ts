import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { gzipSync } from 'node:zlib';
import { loadBench, loadDesign } from '../../../daemon/design/load.js';
import { createSession, type Session } from '../../../daemon/session.js';
import { startSimulatedBench, type SimulatedBench } from '../../../drivers/simulated/simulated-bench.js';
import { manualClock } from '../../manual-clock.js';
import { suspectsAtOnce } from '../suspects/suspects-at-once.js';
import { alarmLog } from './alarm-log.js';

const EXAMPLES = new URL('../../../daemon/design/examples/signal-cabin/', import.meta.url);
const DESIGN_FILE = 'signal-cabin.design.yaml';
const BENCH_FILE = 'signal-cabin.bench.yaml';
/** So that a driver can await between two pieces of time. */
const STEP_MS = 50;

/** One sample: what was on the table, and what the person did. */
export interface Sample {
  readonly name: string;
  readonly minutes: number;
  readonly fault?: string;
  readonly faultRail?: string;
  readonly packed?: boolean;
  /** Changes the design's text for the supply that is really there. */
  readonly real?: (design: string) => string;
  readonly bench?: (text: string) => string;
  /** What happens, by seconds since the start. */
  readonly script?: Readonly<Record<number, (table: Table) => unknown>>;
}

interface Table {
  readonly bench: SimulatedBench;
  readonly session: Session;
}

const note =
  (text: string) =>
  ({ session }: Table) =>
    session.act({ kind: 'note', text });

/** The meter's AC range on the reservoir too: the mean hardly tells a lost diode or capacity, the ripple does. */
const withRipple = (text: string): string =>
  text.replace(
    '      volts:\n',
    '      ripple:\n        measures: ac-volts\n        at: reservoir.ripple\n      volts:\n',
  );

export const SAMPLES: readonly Sample[] = [
  {
    name: 'healthy',
    minutes: 12,
    script: {
      2: note('lamp limiter out, dummy loads on'),
      600: note('both regulators warm, nothing smells'),
    },
  },
  {
    name: 'heatsink-missing',
    minutes: 5,
    fault: 'heatsink-missing',
    faultRail: 'logic',
    script: {
      60: ({ session }) => session.act({ kind: 'acknowledge', alarm: 'over-limit:logic.case' }),
      130: ({ bench }) => bench.power('off'),
      135: note('the logic regulator has no heatsink: fitted one for the next run'),
    },
  },
  {
    name: 'diode-open',
    minutes: 3,
    fault: 'diode-open',
    bench: withRipple,
  },
  {
    name: 'reservoir-dried',
    minutes: 4,
    real: (design) => design.replace('capacity_uF: 4700', 'capacity_uF: 1570'),
    bench: withRipple,
    script: { 200: note('reservoir is thirty years old: measure it out of circuit') },
  },
  {
    name: 'sensor-lifted',
    minutes: 8,
    script: {
      300: ({ bench }) => bench.moveProbe('probes', 'logic.case', 'ambient.air'),
      400: ({ bench }) => bench.moveProbe('probes', 'logic.case', 'logic.case'),
      420: note('the probe had slipped off the logic regulator; taped down again'),
    },
  },
  {
    name: 'regulator-passes-input',
    minutes: 3,
    script: {
      90: ({ bench }) => bench.switchFault('regulator-passes-input', 'logic'),
      100: ({ bench }) => bench.power('off'),
      120: note('dummy load took it, no module was on'),
    },
  },
  {
    name: 'unplugged-meter',
    minutes: 4,
    script: {
      60: ({ bench }) => bench.unplug('meter'),
      100: ({ bench }) => bench.plugIn('meter'),
      120: note('pulled the meter out with my sleeve'),
    },
  },
  {
    name: 'low-mains-dropout',
    minutes: 3,
    real: (design) => design.replace('volts: 15 #', 'volts: 12.3 #'),
  },
  {
    name: 'eight-hour-soak',
    minutes: 480,
    packed: true,
    bench: (text) =>
      text
        .replaceAll('interval_ms: 1000', 'interval_ms: 5000')
        .replace('interval_ms: 500', 'interval_ms: 5000'),
  },
];

/** Makes each sample from the simulated bench through the real drivers and the real session. */
export async function makeSamples(folder: string, names: readonly string[]): Promise<void> {
  for (const sample of SAMPLES) {
    if (names.length > 0 && !names.includes(sample.name)) continue;
    const file = join(folder, `${sample.name}.ndjson${sample.packed === true ? '.gz' : ''}`);
    const place = await mkdtemp(join(tmpdir(), 'railminder-sample-'));
    const bytes = await readFile(await recordSample(sample, place));
    await rm(place, { recursive: true });
    await writeFile(file, sample.packed === true ? gzipSync(bytes, { level: 9 }) : bytes);
    await writeFile(join(folder, `${sample.name}.txt`), (await alarmLog(file)).text);
    console.log(file);
  }
}

/** Records one from the simulated bench into `folder`, in no time of the wall's; resolves with the file. */
export async function recordSample(sample: Sample, folder: string): Promise<string> {
  const { table, clock } = await tableFor(sample, folder);
  table.session.start();
  const wholeSeconds = sample.minutes * 60;
  for (let second = 0; second < wholeSeconds; second += 1) {
    if (second === 5) table.bench.power('on');
    await sample.script?.[second]?.(table);
    for (let passed = 0; passed < 1000; passed += STEP_MS) {
      clock.advance(STEP_MS);
      await new Promise((resolve) => setImmediate(resolve));
    }
  }
  if (!(await table.session.close())) throw new Error(`${sample.name}: not everything was recorded`);
  await table.bench.stop();
  return table.session.file ?? '';
}

async function tableFor(sample: Sample, folder: string) {
  const text = await readFile(fileURLToPath(new URL(DESIGN_FILE, EXAMPLES)), 'utf8');
  const benchText = (sample.bench ?? ((same) => same))(
    await readFile(fileURLToPath(new URL(BENCH_FILE, EXAMPLES)), 'utf8'),
  );
  const design = loadDesign(text, DESIGN_FILE);
  const benchValue = loadBench(benchText, BENCH_FILE, design);
  const clock = manualClock();
  const bench = startSimulatedBench({
    design: sample.real === undefined ? design : loadDesign(sample.real(text), DESIGN_FILE),
    bench: benchValue,
    clock,
    seed: 4,
    load: 'full',
    power: 'off',
    ...(sample.fault !== undefined && { fault: sample.fault }),
    ...(sample.faultRail !== undefined && { faultRail: sample.faultRail }),
  });
  const session = await createSession({
    design: { file: DESIGN_FILE, text, value: design },
    bench: { file: BENCH_FILE, text: benchText, value: benchValue },
    load: 'full',
    clock,
    startedAt: new Date('2026-11-25T18:40:00Z'),
    linkFor: ({ name }) => bench.linkFor(name),
    startSuspects: suspectsAtOnce,
    recordings: folder,
  });
  return { table: { bench, session }, clock };
}
