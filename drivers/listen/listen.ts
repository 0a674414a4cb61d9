import type { Clock } from '../clock.js';
import type { SerialLine } from '../links/serial.js';
import { systemClock } from '../system-clock.js';
import { askBus } from './ask-bus.js';
import { askScope } from './ask-scope.js';
import { askOnce, type Asking } from './asking.js';
import { openEar, type Ear } from './ear.js';
import type { Place } from './place.js';
import { identityIn } from './identity.js';
import { judge, type Judgement } from './judge.js';
import { waitUntil } from './wait-until.js';

export interface ListenOptions {
  /** How long to listen once the speed is known; finding it takes up to twenty seconds more at a port of many speeds. */
  readonly seconds: number;
  /** Bits per second when they are known; found by trying otherwise. */
  readonly baud?: number;
  /** Ends it early; what was heard until then is judged. */
  readonly signal?: AbortSignal;
  /** Takes what comes, once the speed is known. */
  readonly onBytes?: (chunk: Uint8Array) => void;
  /** Is told what is tried now, in words. */
  readonly onTry?: (words: string) => void;
  readonly clock?: Clock;
}

/** What is there, and the settings with which that was found. */
export interface Listened {
  readonly judgement: Judgement;
  /** Bits per second; null where there are none. */
  readonly baud: number | null;
  /** The device speaks only with its cable powered: DTR on, RTS off. */
  readonly needsCablePower: boolean;
  /** The device answers with even parity only. */
  readonly hasEvenParity: boolean;
  /** The newest bytes, at most {@link MOST_HEARD_BYTES}. */
  readonly heard: Uint8Array;
}

/** What boards and meters use, the commonest first (common practice); 2400 for meters with opto cables. */
export const BAUD_RATES = [9600, 115_200, 2400, 19_200, 38_400, 57_600, 4800, 1200] as const;
const FIRST_BAUD = BAUD_RATES[0];
/** The two speeds that every MODBUS device has, which has even parity unless set otherwise (Serial Line V1.02, 2.5.1). */
const BUS_BAUD_RATES = [19_200, 9600] as const;
/** A board that restarts when its port opens starts to print within this time. */
const SILENCE_MS = 3500;
/** A second board line comes within this, at one line a second. */
const TRY_MS = 2200;
/** That many bytes tell a wrong speed from a right one. */
const ENOUGH_BYTES = 120;
/** A short line can look good by chance. */
const FEW_BYTES = 24;
const CABLE_MS = 1500;
const ANSWER_MS = 600;

/**
 * Opens the place, finds the speed, listens, and asks a device that says nothing by itself: `*IDN?`, then as a MODBUS
 * master for a register. Nothing is sent that sets anything. Rejects in plain words when the place doesn't open.
 */
export async function listen(place: Place, options: ListenOptions): Promise<Listened> {
  const found = await withEar(place, options, {}, (listening) => listening.run());
  const isSilent = found.judgement.kind === 'silent' && options.signal?.aborted !== true;
  if (!isSilent || !('serial' in place)) return found;
  const onBus = await withEar(place, options, { parity: 'even' }, (listening) => listening.askBusOnly());
  return onBus ?? found;
}

async function withEar<Found>(
  place: Place,
  options: ListenOptions,
  line: SerialLine,
  find: (listening: Listening) => Promise<Found>,
): Promise<Found> {
  const ear = await openEar(place, options.baud ?? FIRST_BAUD, line);
  try {
    return await find(new Listening(ear, options, !('usbtmc' in place)));
  } finally {
    await ear.close();
  }
}

class Listening {
  readonly #ear: Ear;
  readonly #options: ListenOptions;
  readonly #clock: Clock;
  #baud: number | null;
  readonly #asking: Asking;
  /** USB instruments of the test and measurement class speak no MODBUS. */
  readonly #mayBeBus: boolean;
  #needsCablePower = false;
  #hasEvenParity = false;

  constructor(ear: Ear, options: ListenOptions, mayBeBus: boolean) {
    this.#mayBeBus = mayBeBus;
    this.#ear = ear;
    this.#options = options;
    this.#clock = options.clock ?? systemClock();
    this.#baud = ear.port === null ? null : (options.baud ?? FIRST_BAUD);
    this.#asking = { ear, clock: this.#clock, isOver: () => this.#isOver() };
  }

  async run(): Promise<Listened> {
    const speaks = await this.#untilHeard(SILENCE_MS, 1);
    const answered = speaks ? null : await this.#askEverySpeed();
    if (answered !== null) return this.#result(answered);
    if (!speaks && !(await this.#powerCable())) return this.#result({ kind: 'silent' });
    await this.#findSpeed();
    this.#options.onBytes?.(this.#ear.heard());
    this.#ear.onBytes((chunk) => this.#options.onBytes?.(chunk));
    await this.#wait(this.#options.seconds * 1000, () => false);
    return this.#result(judge(this.#ear.heard()));
  }

  /** For a port that was opened with even parity; null when nobody answers. */
  async askBusOnly(): Promise<Listened | null> {
    this.#hasEvenParity = true;
    const found = await this.#atEverySpeed(BUS_BAUD_RATES, () => this.#askBus());
    return found && this.#result(found);
  }

  #result(judgement: Judgement): Listened {
    const heard = this.#ear.heard();
    return {
      judgement,
      baud: this.#baud,
      needsCablePower: this.#needsCablePower,
      hasEvenParity: this.#hasEvenParity,
      heard,
    };
  }

  /** Leaves the port at the first speed at which what comes is understood; at the one before when there is none. */
  async #findSpeed(): Promise<void> {
    if ((await this.#readsWithin(TRY_MS)) || this.#isFixed()) return;
    const given = this.#baud;
    for (const baud of BAUD_RATES.filter((each) => each !== given)) {
      if (this.#isOver()) return;
      if (!(await this.#setBaud(baud))) continue;
      if (await this.#readsWithin(TRY_MS)) return;
    }
    if (given !== null) await this.#setBaud(given);
  }

  /** Whether speed is out of the question: given by the person, or none at all. */
  #isFixed(): boolean {
    return this.#ear.port === null || this.#options.baud !== undefined;
  }

  /** A device that only answers needs the right speed too. */
  async #askEverySpeed(): Promise<Judgement | null> {
    const identified = await this.#atEverySpeed(BAUD_RATES, () => this.#askIdentity());
    if (identified !== null || !this.#mayBeBus) return identified;
    return this.#atEverySpeed(BAUD_RATES, () => this.#askBus());
  }

  async #atEverySpeed(
    speeds: readonly number[],
    ask: () => Promise<Judgement | null>,
  ): Promise<Judgement | null> {
    for (const baud of this.#isFixed() ? [this.#baud] : speeds) {
      if (this.#isOver()) return null;
      if (baud !== null && baud !== this.#baud && !(await this.#setBaud(baud))) continue;
      const found = await ask();
      if (found !== null) return found;
    }
    return null;
  }

  async #askIdentity(): Promise<Judgement | null> {
    this.#tell('asks *IDN?');
    const identity = await askOnce(this.#asking, Buffer.from('*IDN?\n'), ANSWER_MS, identityIn);
    if (identity === null) return null;
    this.#tell('asks what a scope answers');
    return { kind: 'scpi', identity, scope: await askScope(this.#asking) };
  }

  async #askBus(): Promise<Judgement | null> {
    this.#tell('reads a MODBUS register');
    const unit = await askBus(this.#asking, this.#baud);
    return unit && { kind: 'modbus', unit };
  }

  #tell(tries: string): void {
    const parity = this.#hasEvenParity ? ', even parity' : '';
    this.#options.onTry?.(`${tries}${this.#baud === null ? '' : ` at ${this.#baud} baud${parity}`}`);
  }

  /** Opto cables take their power from the modem lines: DTR on, RTS off (common practice). */
  async #powerCable(): Promise<boolean> {
    const { port } = this.#ear;
    if (port === null || this.#isOver()) return false;
    this.#options.onTry?.('powers the cable: DTR on, RTS off');
    const isSet = await port.setModemLines({ dtr: true, rts: false }).then(
      () => true,
      () => false, // no modem lines, so no such cable
    );
    this.#ear.forget();
    this.#needsCablePower = isSet && (await this.#untilHeard(CABLE_MS, 1));
    return this.#needsCablePower;
  }

  /** False when the port doesn't take this speed. */
  async #setBaud(baud: number): Promise<boolean> {
    const { port } = this.#ear;
    if (port === null) return false;
    this.#options.onTry?.(`listens at ${baud} baud`);
    const isSet = await port.setBaud(baud).then(
      () => true,
      () => false,
    );
    if (isSet) this.#baud = baud;
    this.#ear.forget();
    return isSet;
  }

  /** Whether what comes at this speed is frames or text, with a number in it or not. */
  async #readsWithin(ms: number): Promise<boolean> {
    const kind = () => judge(this.#ear.heard()).kind;
    const isDecided = () =>
      this.#ear.count() >= ENOUGH_BYTES || (this.#ear.count() >= FEW_BYTES && kind() === 'lines');
    await this.#wait(ms, isDecided);
    return !['silent', 'garbled'].includes(kind());
  }

  async #untilHeard(ms: number, bytes: number): Promise<boolean> {
    await this.#wait(ms, () => this.#ear.count() >= bytes);
    return this.#ear.count() >= bytes;
  }

  #isOver(): boolean {
    return this.#options.signal?.aborted === true || this.#ear.isLost();
  }

  /** Waits that long, or until it is so, or until the person or the device ends it. */
  #wait(ms: number, isSo: () => boolean): Promise<void> {
    return waitUntil(this.#clock, ms, () => this.#isOver() || isSo());
  }
}
