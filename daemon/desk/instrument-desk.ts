import { existsSync } from 'node:fs';
import { basename, dirname, resolve } from 'node:path';
import type { OutsideDrivers } from '../channels.js';
import type { Bench } from '../design/bench.js';
import { MEASURANDS } from '../design/bench.js';
import type { Design } from '../design/design.js';
import { measurandsFor, testPointsOf } from '../design/test-points.js';
import type { Written } from '../files.js';
import { heldBy, type HeldLink } from '../held-ports.js';
import type { InstrumentTaps } from '../instrument-taps.js';
import { meterByHand } from '../meter-by-hand.js';
import { newFileName } from '../new-file.js';
import type {
  InstrumentDesk,
  InstrumentToAdd,
  ListenRequest,
  ListeningView,
  OpenedBench,
  PortsView,
  SaveRequest,
  Saved,
  TriedLines,
  TryRequest,
} from '../serve/instrument-messages.js';
import { placeOf } from '../../drivers/listen/place.js';
import { readLines } from '../../drivers/listen/read-lines.js';
import type { PortDescription } from '../../drivers/ports.js';
import { DRIVERS } from '../../drivers/registry.js';
import { textLines } from '../../drivers/text-lines/text-lines.js';
import { guardedChange } from './bench-guard.js';
import { benchProblems, type BenchGround } from './bench-preview.js';
import type { BenchChanger } from './desk-thread.js';
import { Listening, type Listen } from './listening.js';
import { readingViews } from './reading-views.js';
import { SENSOR_EXAMPLES } from './sensor-examples.js';
import { YamlFolder } from './yaml-folder.js';

export interface InstrumentDeskSetup {
  readonly design: Written<Design>;
  /** The bench that the session runs with. */
  readonly bench: Written<Bench>;
  readonly outsideDrivers: OutsideDrivers;
  readonly taps: InstrumentTaps;
  /** What the session has open, so that nothing is opened twice. */
  readonly held: readonly HeldLink[];
  /** Where benches go when the session's own must not be replaced (an example); null: it may. */
  readonly copiesTo: string | null;
  readonly changeBench: BenchChanger;
  readonly listPorts: () => Promise<readonly PortDescription[]>;
  readonly listenAt?: Listen;
}

/** Answers the page about ports and the bench file. What runs isn't touched by any of it. */
export function createInstrumentDesk(setup: InstrumentDeskSetup): InstrumentDesk {
  const { design, bench, taps, held, copiesTo } = setup;
  const isFile = copiesTo === null && existsSync(bench.file);
  const own = isFile ? basename(bench.file) : null;
  const folder = new YamlFolder(
    'bench',
    copiesTo ?? dirname(resolve(isFile ? bench.file : design.file)),
    own,
  );
  const ground: BenchGround = { design: design.value, outside: setup.outsideDrivers };
  /** Benches whose texts were read or saved here, by version: what a save is compared with. */
  let before = bench.text;
  let listening: Listening | null = null;

  async function hush(): Promise<ListeningView | Record<string, never>> {
    await listening?.hush();
    return listening?.view() ?? {};
  }

  return {
    async open(): Promise<OpenedBench> {
      const now = own === null ? null : await folder.read(own).catch(() => null);
      before = now?.text ?? bench.text;
      return {
        file: now === null ? null : own,
        folder: folder.folder,
        suggested: newFileName(design.value.design, 'bench'),
        text: before,
        version: now?.version ?? null,
        ...choices(design.value),
      };
    },
    async preview(request) {
      const changed = await setup.changeBench(request);
      return { ...changed, problems: benchProblems(changed.text, own ?? 'the bench', ground) };
    },
    ports: () => portsView(setup),
    async listen(request: ListenRequest): Promise<ListeningView> {
      const holder = await holderOf(request.port, setup);
      if (holder !== null) return notOpened(request.port, heldWords(request.port, holder));
      await listening?.hush();
      listening = new Listening(request.port, placeOf(request.port), request.seconds, setup.listenAt);
      return listening.view();
    },
    listening: () => Promise.resolve(listening?.view() ?? {}),
    hush,
    heard({ instrument }) {
      const lines = taps.heard(instrument);
      return Promise.resolve({
        lines: lines && lines.map(({ text, readings }) => ({ text, readings: readingViews(readings) })),
      });
    },
    try: (request) => Promise.resolve(tried(request)),
    async save(request: SaveRequest): Promise<Saved> {
      const [problem] = benchProblems(request.text, request.file, ground);
      const why = problem === undefined ? guardedChange(before, request.text) : whole(problem);
      if (why !== null) return { file: null, version: null, why: `Not saved: ${why}` };
      return folder.save(request);
    },
    close: async () => void (await hush()),
  };

  function heldWords(port: string, holder: string): string {
    const isInstrument = held.some(({ name }) => name === holder) && taps.heard(holder) !== null;
    const instead = isInstrument
      ? `what ${holder} sends is shown with the running instruments`
      : 'it is left alone';
    return `${port} is in use by ${holder} of the running session and isn't opened twice; ${instead}`;
  }
}

function whole({ line, key, words }: { line: number; key: string; words: string }): string {
  return `line ${line}${key === '' ? '' : ` ${key}`}: ${words}`;
}

function choices(
  design: Design,
): Pick<OpenedBench, 'drivers' | 'measurands' | 'points' | 'sensors' | 'byHand'> {
  return {
    drivers: Object.values(DRIVERS).map(({ name, reads, typed }) => ({
      name,
      reads,
      isTyped: typed !== undefined,
    })),
    measurands: MEASURANDS,
    points: testPointsOf(design).map((id) => ({ id, measurands: measurandsFor(id) })),
    sensors: SENSOR_EXAMPLES,
    byHand: byHandOf(design),
  };
}

function byHandOf(design: Design): InstrumentToAdd {
  const [spec] = Object.values(meterByHand(design).value.instruments);
  return {
    name: 'hand-meter',
    about: 'read by eye; type what it shows',
    driver: 'by-hand',
    link: null,
    options: {},
    channels: Object.entries(spec?.channels ?? {}).map(([name, { measures, accuracy }]) => ({
      name,
      says: { measures, ...(accuracy && { accuracy }) },
      about: '',
    })),
  };
}

async function portsView({ listPorts, held }: InstrumentDeskSetup): Promise<PortsView> {
  try {
    const ports = await listPorts();
    const views = ports.map((port) => ({
      path: port.path,
      kind: port.kind,
      about: [port.maker, port.product, port.usb === null ? null : `USB ${port.usb}`, port.serial]
        .filter((word) => word !== null)
        .join(', '),
      heldBy: heldBy(port, held),
    }));
    return { ports: views, why: null };
  } catch (error) {
    return { ports: [], why: error instanceof Error ? error.message : String(error) };
  }
}

/** By its path, and by its identity where the system knows it. */
async function holderOf(path: string, { listPorts, held }: InstrumentDeskSetup): Promise<string | null> {
  const ports = await listPorts().catch(() => []);
  const known = ports.find((port) => port.path === path);
  return heldBy(known ?? { path, usb: null, serial: null }, held);
}

function notOpened(port: string, why: string): ListeningView {
  return { port, isOver: true, tries: '', baud: null, lines: [], found: '', proposal: null, why };
}

function tried({ pattern, lines }: TryRequest): TriedLines {
  const options = { pattern };
  const [problem] = textLines.checkOptions(options);
  if (problem !== undefined) {
    const words = `found "${String(problem.found)}"; allowed is ${problem.allowed}`;
    return { lines: lines.map((text) => ({ text, readings: [] })), problem: words };
  }
  const read = readLines(options, textLines.channelsOf(options), lines);
  return {
    lines: lines.map((text, i) => ({ text, readings: readingViews(read[i] ?? []) })),
    problem: '',
  };
}
