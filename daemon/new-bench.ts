import type { ChannelDraft, InstrumentDraft } from './bench-text.js';
import { name as nameRule } from './design/allowed.js';
import type { Design } from './design/design.js';
import type { Reader } from './design/new-questions.js';
import { measurandsFor, testPointsOf } from './design/test-points.js';
import type { Measurand } from '../drivers/driver.js';
import type { Place } from '../drivers/listen/place.js';
import type { Listened } from '../drivers/listen/listen.js';
import type { ProposedNumber } from '../drivers/listen/proposal.js';
import {
  NOWHERE,
  onePoint,
  placeOrNone,
  severalPoints,
  yesOrNo,
  type PointsAtOnce,
} from './bench-answers.js';
import { draftInstrument, numbersOf } from './draft-instrument.js';
import { withNumberNamed } from './draft-options.js';
import type { PortDescription } from '../drivers/ports.js';

/** How the person is asked and told. */
export interface Talk {
  ask<T extends string | number | boolean | object>(
    text: string,
    suggestion: string,
    read: Reader<T>,
  ): Promise<T>;
  tell(text: string): void;
}

export interface NewBenchSources {
  readonly design: Design;
  readonly ports: readonly PortDescription[];
  /** Rejects in plain words when the place doesn't open. */
  readonly listenAt: (place: Place) => Promise<Listened>;
  /** What was found, in words. */
  readonly inWords: (found: Listened) => string;
}

const ACCURACY = 'as its manual says, add accuracy: { percent: 0.5, counts: 2, resolution: 0.01 }';

/** Asks what is on the table, port by port, and where each channel's probe sits. */
export async function askNewBench(sources: NewBenchSources, talk: Talk): Promise<readonly InstrumentDraft[]> {
  const points = testPointsOf(sources.design).filter((point) => measurandsFor(point).length > 0);
  const asker = new Asker(points, talk);
  talk.tell(`Test points:\n${numbered(points)}\n`);
  for (const port of sources.ports) await askPort(port, sources, asker, talk);
  for (;;) {
    const place = await talk.ask('Another port, as a path or host:port', NOWHERE, placeOrNone);
    if (place === NOWHERE) break;
    await take(place, undefined, sources, asker, talk);
  }
  for (;;) {
    const name = await talk.ask('A meter without a cable, read by hand: its name', NOWHERE, asker.freeName());
    if (name === NOWHERE) break;
    await asker.byHand(name);
  }
  return asker.drafts;
}

async function askPort(
  port: PortDescription,
  sources: NewBenchSources,
  asker: Asker,
  talk: Talk,
): Promise<void> {
  const called = [port.maker, port.product].filter((word) => word !== null).join(' ');
  const what = called === '' ? port.path : `${port.path} (${called})`;
  if (!(await talk.ask(`Listen at ${what}? Opening it restarts some boards`, 'yes', yesOrNo))) return;
  const place = port.kind === 'serial' ? { serial: port.path } : { usbtmc: port.path };
  await take(place, lastingId(port, sources.ports), sources, asker, talk);
}

/** `usb`: the identity by which the device is found again under any path. */
async function take(
  place: Place,
  usb: string | undefined,
  { listenAt, inWords }: NewBenchSources,
  asker: Asker,
  talk: Talk,
): Promise<void> {
  try {
    talk.tell('  listening …');
    const found = await listenAt(place);
    talk.tell(`  ${inWords(found)}`);
    const draft = draftInstrument(place, found);
    if (draft === null) return talk.tell('  It is left out.');
    await asker.instrument(usb === undefined ? draft : foundAgain(draft, usb), numbersOf(found));
  } catch (problem) {
    if (!(problem instanceof Error) || problem.name === 'BadUse') throw problem;
    talk.tell(`  ${problem.message}. It is left out.`);
  }
}

/** Asks about instruments, and collects them. */
class Asker {
  readonly drafts: InstrumentDraft[] = [];
  readonly #points: readonly string[];
  readonly #talk: Talk;

  constructor(points: readonly string[], talk: Talk) {
    this.#points = points;
    this.#talk = talk;
  }

  /** A name that no instrument has, or `none`. */
  freeName(): Reader<string> {
    return (typed) => {
      if (this.drafts.some(({ name }) => name === typed)) return { allowed: 'a name that is not taken' };
      const checked = nameRule.safeParse(typed);
      return checked.success
        ? { value: typed }
        : { allowed: checked.error.issues[0]?.message ?? 'another name' };
    };
  }

  async instrument(draft: InstrumentDraft, numbers: readonly ProposedNumber[]): Promise<void> {
    const name = await this.#talk.ask('  Its name', this.#unused(draft.name), this.freeName());
    let { options } = draft;
    const taken: string[] = [];
    for (const number of numbers) {
      const point = await this.#pointFor(`  Where does ${number.name} sit`, number, taken);
      if (point === NOWHERE) continue;
      taken.push(point);
      options = withNumberNamed(draft.driver, options, number, {
        name: point,
        measures: measurandAt(point, number),
      });
    }
    const channels = numbers.length > 0 ? [] : await this.#channelsAt(draft.channels, 'one-of-a-kind');
    this.drafts.push({ ...draft, name, options, channels });
  }

  async byHand(name: string): Promise<void> {
    const channels = await this.#channelsAt([], 'any');
    this.drafts.push({
      name,
      about: 'you read it and type what it shows',
      driver: 'by-hand',
      options: {},
      channels,
    });
  }

  /** A meter's channels, one for each test point that it is put on; `known` tells what its dial stands at. */
  async #channelsAt([known]: readonly ChannelDraft[], most: PointsAtOnce): Promise<readonly ChannelDraft[]> {
    const measures = known?.isSure === true ? known.says.measures : undefined;
    const fitting = this.#fitting(measures);
    const points = await this.#talk.ask(
      `  Which test points does it measure, with blanks between${measures === undefined ? '' : ` (${measures})`}`,
      fitting[0] ?? NOWHERE,
      severalPoints(this.#points, fitting, most),
    );
    return points.map((at) => ({
      name: at.replace('.', '-'),
      says: { measures: measurandsFor(at)[0] ?? 'dc-volts', at },
      isSure: true,
      about: ACCURACY,
    }));
  }

  async #pointFor(
    text: string,
    { name, measures, isSure }: ProposedNumber,
    taken: readonly string[],
  ): Promise<string> {
    const fitting = this.#fitting(isSure ? measures : undefined).filter((point) => !taken.includes(point));
    const close = fitting.find((point) => name.includes(point.replace('.', '-')));
    const rail = fitting.find((point) => name.split('-').includes(point.split('.')[0] ?? ''));
    const what = isSure ? ` (${measures})` : '';
    const read: Reader<string> = (typed) => onePoint(typed, this.#points, fitting);
    return this.#talk.ask(`${text}${what}`, close ?? rail ?? NOWHERE, read);
  }

  #fitting(measures: Measurand | undefined): readonly string[] {
    return this.#points.filter((point) => measures === undefined || fits(point, measures));
  }

  #unused(name: string): string {
    const taken = new Set(this.drafts.map((draft) => draft.name));
    let free = name;
    for (let n = 2; taken.has(free); n += 1) free = `${name}-${n}`;
    return free;
  }
}

/** A number that is sure keeps what it measures; the test point says it of the others. */
function measurandAt(point: string, { isSure, measures }: ProposedNumber): Measurand {
  return isSure ? measures : (measurandsFor(point)[0] ?? measures);
}

function fits(point: string, measures: Measurand): boolean {
  return measurandsFor(point).some((each) => each === measures);
}

function numbered(points: readonly string[]): string {
  return points.map((point, at) => `  ${String(at + 1).padStart(2)} ${point}`).join('\n');
}

/** The identity that no other port has, with the serial number where there is one; undefined when there is none such. */
function lastingId({ usb, serial }: PortDescription, all: readonly PortDescription[]): string | undefined {
  if (usb === null) return undefined;
  const alike = all.filter((port) => port.usb === usb);
  if (alike.length === 1) return usb;
  const isOnly = serial !== null && alike.filter((port) => port.serial === serial).length === 1;
  return isOnly ? `${usb}:${serial}` : undefined;
}

/** The draft with a link that finds its device by this identity. */
function foundAgain(draft: InstrumentDraft, usb: string): InstrumentDraft {
  const { link } = draft;
  if (link !== undefined && 'serial' in link) {
    const { baud, parity, dtr, rts } = link;
    const lines = {
      ...(parity !== undefined && { parity }),
      ...(dtr !== undefined && { dtr }),
      ...(rts !== undefined && { rts }),
    };
    return { ...draft, link: { usb, baud, ...lines } };
  }
  return { ...draft, link: { usbtmc: usb } };
}
