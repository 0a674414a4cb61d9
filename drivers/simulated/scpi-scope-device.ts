import type { Clock } from '../clock.js';
import type { ByteEnd, SimulatedDevice } from './device.js';
import type { RandomSource } from './random.js';
import { errorQueue, eventBitOf, type ScpiErrorNumber } from './scpi-errors.js';
import { headerMatcher, programUnits } from './scpi-header.js';
import { NO_TROUBLE, ScopeOutbox, type ScopeTrouble } from './scpi-scope-outbox.js';
import { sample, triggerPhase, type InputSettings, type Sampled } from './scpi-scope-sampling.js';
import { tenFieldCommands } from './scpi-scope-ten-field.js';
import { traceCommands } from './scpi-scope-trace.js';
import type { CycleWave } from './supply.js';

export interface ScpiScopeOptions {
  readonly end: ByteEnd;
  readonly clock: Clock;
  readonly random: RandomSource;
  readonly speaks: 'ten-field' | 'trace-dif';
  /** What is at an input's probe now; null where nothing is. */
  watch(input: number): CycleWave | null;
  /** The cable's rate; 1 MB/s by default. */
  readonly bytesPerSecond?: number;
  /** Whether it triggers by itself when nothing does; true by default. */
  readonly triggersByItself?: boolean;
}

export interface SimulatedScope extends SimulatedDevice {
  /** Changes how it answers from the next answer on. */
  misbehave(trouble: Partial<ScopeTrouble>): void;
  fillErrorQueue(): void;
}

export const SCPI_SCOPE_IDENTITY = 'Railminder,Simulated scope,0,1.0';

/** One command or question, as SCPI writes its header. The number in the header (CHANnel1) goes to `run` as `input`. */
export interface ScopeCommand {
  readonly header: string;
  readonly isQuery: boolean;
  readonly run: (
    input: number,
    parameters: readonly string[],
  ) => string | Uint8Array | ScpiErrorNumber | void;
}

/** What the commands of either dialect act upon. */
export interface ScopeState {
  readonly inputs: ReadonlyMap<number, InputSettings>;
  points: number;
  secondsAcross: number;
  bits: 8 | 16;
  signed: boolean;
  littleEndian: boolean;
  interchange: boolean;
  source: number;
  /** What the last acquisition brought, by input; null before the first. */
  sampled: ReadonlyMap<number, Sampled> | null;
  arm(): ScpiErrorNumber | void;
  abort(): void;
}

const INPUTS = 4;
const INPUT_BUFFER_BYTES = 1024;
const MESSAGES_WAITING = 64;
const POWER_ON = 128;
const OPERATION_COMPLETE = 1;
const BY_ITSELF_AFTER_MS = 100;

/** A scope that speaks SCPI at byte level in one of two dialects, in its own time. */
export function scpiScopeDevice(options: ScpiScopeOptions): SimulatedScope {
  return new ScpiScope(options);
}

class ScpiScope implements SimulatedScope {
  readonly #options: ScpiScopeOptions;
  readonly #outbox: ScopeOutbox;
  readonly #errors = errorQueue();
  #commands: readonly (ScopeCommand & { readonly fits: (header: string) => boolean })[] = [];
  #state: ScopeState | null = null;
  #trouble: ScopeTrouble = NO_TROUBLE;
  #eventStatus = POWER_ON;
  #tellsWhenDone = false;
  #input = '';
  #overrun = false;
  #waiting: string[] = [];
  #isAnswering = false;
  #cancelAcquisition: (() => void) | null = null;

  constructor(options: ScpiScopeOptions) {
    this.#options = options;
    this.#outbox = new ScopeOutbox(options.end, options.clock, options.random, options.bytesPerSecond ?? 1e6);
    options.end.onBytes((bytes) => this.#receive(bytes));
  }

  start(): void {
    this.stop();
    const state = this.#freshState();
    this.#state = state;
    const own = this.#options.speaks === 'ten-field' ? tenFieldCommands(state) : traceCommands(state);
    this.#commands = [...this.#commonCommands(), ...own].map((each) => ({
      ...each,
      fits: headerMatcher(each.header),
    }));
    this.#errors.clear();
    this.#eventStatus = POWER_ON;
  }

  stop(): void {
    this.#state = null;
    this.#outbox.stop();
    this.#endAcquisition();
    this.#tellsWhenDone = false;
    this.#waiting = [];
    this.#input = '';
    this.#overrun = false;
    this.#isAnswering = false;
  }

  misbehave(trouble: Partial<ScopeTrouble>): void {
    this.#trouble = { ...this.#trouble, ...trouble };
  }

  fillErrorQueue(): void {
    this.#errors.fill();
  }

  #freshState(): ScopeState {
    const inputs = Array.from({ length: INPUTS }, (_, at): [number, InputSettings] => [
      at + 1,
      { coupling: 'DC', attenuation: 10, scale: null, middle: null },
    ]);
    return {
      inputs: new Map(inputs),
      points: 1000,
      secondsAcross: 0.05,
      bits: 8,
      signed: this.#options.speaks === 'trace-dif',
      littleEndian: false,
      interchange: false,
      source: 1,
      sampled: null,
      arm: () => this.#arm(),
      abort: () => this.#abort(),
    };
  }

  #receive(bytes: Uint8Array): void {
    if (this.#state === null) return;
    for (const byte of bytes) {
      if (byte === 0x0a) this.#endOfMessage();
      else if (this.#input.length >= INPUT_BUFFER_BYTES) this.#overrun = true;
      else this.#input += String.fromCharCode(byte);
    }
    this.#runWaiting();
  }

  #endOfMessage(): void {
    if (this.#overrun || this.#waiting.length >= MESSAGES_WAITING) this.#fail(-363);
    else this.#waiting.push(this.#input);
    this.#input = '';
    this.#overrun = false;
  }

  #runWaiting(): void {
    while (!this.#isAnswering && this.#state !== null) {
      const message = this.#waiting.shift();
      if (message === undefined) return;
      const answers = programUnits(message).flatMap((unit) => this.#runUnit(unit));
      if (answers.length > 0 && !this.#trouble.stuck) this.#answer(answers);
    }
  }

  #answer(answers: readonly (string | Uint8Array)[]): void {
    const parts = answers.flatMap((answer, at) => [Buffer.from(at === 0 ? '' : ';'), Buffer.from(answer)]);
    this.#isAnswering = true;
    this.#outbox.send(Buffer.concat([...parts, Buffer.from('\n')]), this.#trouble, () => {
      this.#isAnswering = false;
      this.#runWaiting();
    });
  }

  #runUnit({
    header,
    isQuery,
    parameters,
  }: ReturnType<typeof programUnits>[number]): (string | Uint8Array)[] {
    const number = /(?<!\d)(\d+)(?=:|$)/.exec(header)?.[1];
    const bare = header.replace(/(?<!\d)\d+(?=:|$)/, '');
    const found = this.#commands.find((each) => each.isQuery === isQuery && each.fits(bare));
    const outcome =
      found === undefined ? -113 : found.run(number === undefined ? 1 : Number(number), parameters);
    if (typeof outcome === 'number') this.#fail(outcome);
    return typeof outcome === 'string' || outcome instanceof Uint8Array ? [outcome] : [];
  }

  #fail(number: ScpiErrorNumber): void {
    this.#errors.push(number);
    this.#eventStatus |= eventBitOf(number);
  }

  #commonCommands(): ScopeCommand[] {
    const asks = (header: string, run: () => string): ScopeCommand => ({ header, isQuery: true, run });
    const does = (header: string, run: () => void): ScopeCommand => ({ header, isQuery: false, run });
    return [
      asks('*IDN', () => SCPI_SCOPE_IDENTITY),
      asks('*ESR', () => {
        const status = this.#eventStatus;
        this.#eventStatus = 0;
        return String(status);
      }),
      asks('SYSTem:ERRor[:NEXT]', () => this.#errors.next()),
      does('*CLS', () => {
        this.#errors.clear();
        this.#eventStatus = 0;
        this.#tellsWhenDone = false;
      }),
      does('*OPC', () => {
        this.#tellsWhenDone = true;
        if (this.#cancelAcquisition === null) this.#tellDone();
      }),
    ];
  }

  #tellDone(): void {
    if (this.#tellsWhenDone) this.#eventStatus |= OPERATION_COMPLETE;
    this.#tellsWhenDone = false;
  }

  /** Waits for the trigger and for the second half of the screen, as a scope does. */
  #arm(): ScpiErrorNumber | void {
    if (this.#state === null) return;
    if (this.#cancelAcquisition !== null) return -213;
    const { clock, triggersByItself = true } = this.#options;
    const state = this.#state;
    const waves = [...state.inputs.keys()].map((input) => [input, this.#options.watch(input)] as const);
    const source = waves.find(([, wave]) => wave !== null)?.[1] ?? null;
    const phase = source === null ? null : triggerPhase(source);
    const acrossMs = state.secondsAcross * 1000;
    const nowCycles = source === null ? 0 : (clock.nowMs() / 1000 + state.secondsAcross / 2) * source.hertz;
    if (phase === null && !triggersByItself) {
      this.#cancelAcquisition = () => undefined;
      return;
    }
    const untilTriggerMs =
      phase === null || source === null
        ? BY_ITSELF_AFTER_MS
        : ((phase - nowCycles + Math.ceil(nowCycles + 1 - phase)) % 1) * (1000 / source.hertz);
    this.#cancelAcquisition = clock.after(acrossMs + untilTriggerMs, () => {
      this.#cancelAcquisition = null;
      const base = { points: state.points, stepSeconds: state.secondsAcross / state.points };
      state.sampled = new Map(
        waves.map(([input, wave]) => {
          const settings = state.inputs.get(input) as InputSettings;
          const steps = 2 ** state.bits;
          return [input, sample(wave, phase ?? 0, base, settings, steps, this.#options.random)] as const;
        }),
      );
      this.#tellDone();
    });
  }

  #abort(): void {
    this.#endAcquisition();
    this.#tellDone();
  }

  #endAcquisition(): void {
    this.#cancelAcquisition?.();
    this.#cancelAcquisition = null;
  }
}
