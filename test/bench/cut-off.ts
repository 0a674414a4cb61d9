import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { performance } from 'node:perf_hooks';
import { SerialPort } from 'serialport';
import { loadBench, loadDesign } from '../../daemon/design/load.js';
import { linkFor } from '../../daemon/links.js';
import { createSession, type Session } from '../../daemon/session.js';
import { systemClock } from '../../drivers/system-clock.js';
import { openPtyPair, type PtyPair } from '../drivers/pty.js';

export interface DelayRow {
  readonly name: string;
  readonly rounds: number;
  /** From writing the reading's last byte to the relay's OPEN at the far end of its terminal. Wanted: at most 20. */
  readonly medianMs: number;
  readonly worstMs: number;
  /** The very first one, when none of the program's code for it has run before. */
  readonly firstMs: number;
  /** The same way through two bare serial ports: bytes in at one, a line out at the other. */
  readonly bareMedianMs: number;
  readonly bareWorstMs: number;
  readonly medianRatio: number;
}

const ROUNDS = 20;
const READING = 'LOGIC 18.6 V\r\n';
const DESIGN = 'daemon/design/examples/signal-cabin/signal-cabin.design.yaml';

const benchFor = (rails: string, relay: string): string => `bench: table
instruments:
  rails:
    driver: text-lines
    link: { serial: ${rails} }
    options: { pattern: 'LOGIC {logic.volts} V', interval_ms: 100 }
outputs:
  mains-relay:
    driver: relay-lines
    link: { serial: ${relay} }
    armed: true
    cuts_off_on: [passing-input]
`;

/** How long after a reading that shows the reservoir on a rail the relay is told to open, the disk being written. */
export async function rows(): Promise<readonly DelayRow[]> {
  const folder = await mkdtemp(join(tmpdir(), 'railminder-cut-off-'));
  const [rails, relay] = await Promise.all([openPtyPair(folder, 'rails'), openPtyPair(folder, 'relay')]);
  let onLine: (line: string) => void = () => undefined;
  let isClosed = false;
  relay.onData((bytes) => {
    for (const line of bytes.toString('ascii').split('\n')) {
      if (line === 'CLOSE' || line === 'OPEN') isClosed = line === 'CLOSE';
      if (line === 'STATE') void relay.write(isClosed ? 'CLOSED\r\n' : 'OPENED\r\n');
      onLine(line);
    }
  });
  const heard = (wanted: string): Promise<void> =>
    new Promise((resolve) => (onLine = (line) => line === wanted && resolve()));
  const measure = async (): Promise<number> => {
    const opened = heard('OPEN');
    const sentMs = performance.now();
    void rails.write(READING);
    await opened;
    return performance.now() - sentMs;
  };
  try {
    const bare = await bareRounds(rails, relay, measure);
    const ours: number[] = [];
    for (let round = 0; round < ROUNDS; round += 1)
      ours.push(await throughSession(folder, rails, relay, measure));
    const [median, bareMedian] = [medianOf(ours), medianOf(bare)];
    return [
      {
        name: 'a reading in, OPEN out, ten readings a second',
        rounds: ROUNDS,
        medianMs: rounded(median),
        worstMs: rounded(Math.max(...ours)),
        firstMs: rounded(ours[0] ?? NaN),
        bareMedianMs: rounded(bareMedian),
        bareWorstMs: rounded(Math.max(...bare)),
        medianRatio: rounded(median / bareMedian),
      },
    ];
  } finally {
    await Promise.all([rails.unplug(), relay.unplug()]);
    await rm(folder, { recursive: true, force: true });
  }
}

async function bareRounds(rails: PtyPair, relay: PtyPair, measure: () => Promise<number>): Promise<number[]> {
  const [from, to] = await Promise.all([openPort(rails.devicePath), openPort(relay.devicePath)]);
  from.on('data', (bytes: Buffer) => {
    if (bytes.includes('\n')) to.write('OPEN\n');
  });
  const found: number[] = [];
  for (let round = 0; round < ROUNDS; round += 1) {
    found.push(await measure());
    await pause(100);
  }
  await Promise.all([from, to].map((port) => new Promise<void>((resolve) => port.close(() => resolve()))));
  return found;
}

function openPort(path: string): Promise<SerialPort> {
  return new Promise((resolve, reject) => {
    const port = new SerialPort({ path, baudRate: 9600 }, (error) =>
      error === null ? resolve(port) : reject(error),
    );
  });
}

/** A session of its own for every round: an alarm that stands drops nothing twice. */
async function throughSession(
  folder: string,
  rails: PtyPair,
  relay: PtyPair,
  measure: () => Promise<number>,
): Promise<number> {
  const session = await sessionOn(folder, benchFor(rails.devicePath, relay.devicePath));
  session.start();
  await until(session, ({ state }) =>
    state.instruments.some((one) => one.name === 'mains-relay' && one.state === 'open'),
  );
  const speaking = setInterval(() => void rails.write('LOGIC 5.02 V\r\n'), 100);
  await until(session, ({ state }) =>
    state.points.some(({ id, value }) => id === 'logic.volts' && value === 5.02),
  );
  session.act({ kind: 'cut-off', output: 'mains-relay', order: 'on', inSight: true });
  await until(session, ({ state }) => state.cutOffs[0]?.position === 'on');
  session.act({ kind: 'cut-off', output: 'mains-relay', order: 'arm', inSight: true });
  await pause(1000);
  clearInterval(speaking);
  const ms = await measure();
  await until(session, ({ state }) => state.cutOffs[0]?.position === 'off');
  await session.close();
  return ms;
}

async function sessionOn(folder: string, benchText: string): Promise<Session> {
  const text = await readFile(DESIGN, 'utf8');
  const design = loadDesign(text, DESIGN);
  const clock = systemClock();
  const file = 'cut-off.bench.yaml';
  return createSession({
    design: { file: DESIGN, text, value: design },
    bench: { file, text: benchText, value: loadBench(benchText, file, design) },
    load: 'full',
    clock,
    startedAt: new Date(),
    recordings: folder,
    linkFor: ({ spec }) => linkFor(spec.link, clock),
  });
}

function until(session: Session, isSo: (session: Session) => boolean): Promise<void> {
  if (isSo(session)) return Promise.resolve();
  return new Promise((resolve) => session.onStep(() => isSo(session) && resolve()));
}

function pause(ms: number): Promise<void> {
  return new Promise((resolve) => setTimeout(resolve, ms));
}

function medianOf(values: readonly number[]): number {
  return [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)] ?? NaN;
}

function rounded(value: number): number {
  return Math.round(value * 100) / 100;
}
