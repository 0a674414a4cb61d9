import type { Capture, ChannelSpec, Coupling } from '../driver.js';
import { printable } from '../printable.js';
import type { Script } from '../scpi/conversation.js';
import { InStep, OutOfStep, type Answer, type Talk, type TalkSurroundings } from '../scpi/in-step.js';
import type { Dialect, SampleChoice } from './dialect.js';
import { pointsPromised, readInterchange, type Interchange } from './interchange.js';
import { numberIn, readPreamble } from './preamble.js';
import type { BlockRules } from './reply-reader.js';
import { samplesIn } from './samples.js';
import { SeenTraces } from './seen-traces.js';

/** One of the scope's inputs, and the channel that it is. */
export interface ScopeInput {
  readonly channel: string;
  readonly input: number;
  /** What the probe divides by; null when that is the scope's own affair. */
  readonly attenuation: number | null;
}

export interface ScopeSettings {
  readonly dialect: Dialect;
  readonly samples: SampleChoice;
  readonly inputs: readonly ScopeInput[];
  /** One capture and no more, waited for as long as it takes; else again and again. */
  readonly once: boolean;
  readonly intervalMs: number;
  readonly timeoutMs: number;
  readonly triggerTimeoutMs: number;
  readonly mostPoints: number;
  readonly firstCommands: readonly string[];
}

export interface ScopeSurroundings extends Omit<
  TalkSurroundings,
  'asksEvents' | 'onLate' | 'kind' | 'timeoutMs'
> {
  readonly channels: readonly ChannelSpec[];
  readonly settings: ScopeSettings;
  readonly onCapture: (capture: Capture) => void;
  /** Says what the replies to come may hold. */
  readonly allowBlocks: (rules: BlockRules | null) => void;
}

/** Time between two looks at whether the acquisition is done. */
const LOOK_MS = 50;
/** A megapoint in words takes three minutes over a serial line at 115,200 baud; faster links are limited by silence. */
const LONGEST_TRANSFER_MS = 180_000;
/** Nothing but closing brackets stands behind a block; a byte more would mean that the block isn't whole. */
const BLOCK_LAST = /#[\s)]*$/;
const PAUSE_AFTER_REFUSAL_MS = 5000;

/**
 * What is said to a scope during one connection. Captures are handed on only after the question behind them was
 * answered and the error queue was empty: bytes too many or too few in a block show there, and so does an input that
 * couldn't be chosen.
 */
export class ScopeSession {
  readonly #around: ScopeSurroundings;
  readonly #inStep: InStep;
  readonly #units: ReadonlyMap<string, 'V' | 'A'>;
  readonly #seen = new SeenTraces();
  #acquisition = 0;

  constructor(around: ScopeSurroundings) {
    this.#around = around;
    this.#units = new Map(around.channels.flatMap((spec) => unitOf(spec)));
    this.#inStep = new InStep({
      ...around,
      timeoutMs: around.settings.timeoutMs,
      kind: 'a SCPI scope',
      asksEvents: false, // the dialects ask for it to see the end of an acquisition
    });
  }

  *script(): Script {
    const { once, intervalMs } = this.#around.settings;
    yield* this.#inStep.identify('*CLS');
    for (let when = 'before the first capture'; ; when = 'after an answer was missing or wrong') {
      try {
        yield* this.#inStep.showErrors(when);
        if (!(yield* this.#prepare())) continue;
        for (;;) {
          const startMs = this.#around.clock.nowMs();
          const got = yield* this.#round();
          if (once && got) return;
          yield { for: 'delay', delayMs: Math.max(0, startMs + intervalMs - this.#around.clock.nowMs()) };
        }
      } catch (problem) {
        if (!(problem instanceof OutOfStep)) throw problem;
        this.#around.allowBlocks(null);
        this.#around.states.notReading(problem.message);
        yield* this.#inStep.identify();
      }
    }
  }

  /** Sets the scope up. False when it refuses: it would send samples in another form than the one expected. */
  *#prepare(): Talk<boolean> {
    const { settings, states } = this.#around;
    const { abort, attenuation, done, setup } = settings.dialect;
    this.#sendAll([...abort, ...setup, ...settings.samples.setup, ...settings.firstCommands]);
    for (const each of settings.inputs) {
      if (attenuation !== null && each.attenuation !== null) this.#sendAll([filled(attenuation.set, each)]);
    }
    yield* this.#status(done.ask); // an acquisition that ended before isn't ours
    const errors = yield* this.#inStep.showErrors('while the scope was set up, so it is not read');
    if (errors.length === 0) return true;
    states.notReading('the scope refuses its settings');
    yield { for: 'delay', delayMs: PAUSE_AFTER_REFUSAL_MS };
    return false;
  }

  /** Takes one acquisition and hands on what it brought; false when it brought nothing. */
  *#round(): Talk<boolean> {
    const { faults, onCapture, settings, states } = this.#around;
    this.#sendAll(settings.dialect.start);
    if (!(yield* this.#untilDone())) return false;
    this.#acquisition += 1;
    const taken: [ScopeInput, Capture][] = [];
    for (const input of settings.inputs) {
      const capture = yield* this.#capture(input);
      if (typeof capture === 'string')
        faults.count('not-understood', `${input.channel} is not read: ${capture}`);
      else taken.push([input, capture]);
    }
    const errors = yield* this.#inStep.showErrors('while a capture was read, so it is not shown');
    if (errors.length > 0) return false;
    const captures: Capture[] = [];
    for (const [input, capture] of taken) {
      if ((yield* this.#isUnturned(input, capture)) && this.#isNew(capture)) captures.push(capture);
    }
    if (captures.length === 0) return false;
    states.reading();
    captures.forEach(onCapture);
    return true;
  }

  *#untilDone(): Talk<boolean> {
    const { clock, faults, settings, states } = this.#around;
    const { abort, done } = settings.dialect;
    const startMs = clock.nowMs();
    for (;;) {
      const status = yield* this.#status(done.ask);
      if (((status >> done.bit) & 1) === 1) return true;
      if (!settings.once && clock.nowMs() - startMs >= settings.triggerTimeoutMs) break;
      yield { for: 'delay', delayMs: LOOK_MS };
    }
    this.#sendAll(abort);
    yield* this.#status(done.ask);
    const within = `within ${settings.triggerTimeoutMs} ms (trigger_timeout_ms)`;
    faults.count(
      'no-answer',
      `the scope did not trigger ${within}; check its trigger level, source and mode`,
    );
    states.notReading('the scope does not trigger');
    return false;
  }

  *#status(question: string): Talk<number> {
    const { text } = yield* this.#inStep.ask(question);
    const status = numberIn(text);
    if (status === null || !Number.isInteger(status) || status < 0 || status > 0xffff) {
      this.#around.faults.count('not-understood', `no register value in answer to ${question}`, text);
      throw new OutOfStep(`${question} was answered with something else`);
    }
    return status;
  }

  /** One input's capture, or words for why there is none. */
  *#capture(input: ScopeInput): Talk<Capture | string> {
    const { dialect } = this.#around.settings;
    const unit = this.#units.get(input.channel);
    if (unit === undefined) return 'a scope captures volts or amps; change what the channel measures';
    this.#sendAll(dialect.input.map((command) => filled(command, input)));
    const coupling = yield* this.#coupling(input);
    if (coupling === null) return 'its coupling is not understood; add the word to the dialect';
    if (coupling === 'ground') return 'its input is set to ground';
    const attenuation = yield* this.#attenuation(input);
    if (typeof attenuation === 'string') return attenuation;
    const found = yield* this.#waveform(input);
    const { block, atMs } = found.answer;
    if (block === undefined) {
      this.#around.faults.count(
        'not-understood',
        `${input.channel} is not read: no data block`,
        found.answer.text,
      );
      throw new OutOfStep('no data block in the answer');
    }
    if (!BLOCK_LAST.test(found.answer.text)) {
      this.#around.faults.count(
        'not-understood',
        `${input.channel} is not read: bytes behind its block`,
        found.answer.text,
      );
      throw new OutOfStep('a block is longer than it says');
    }
    if (found.unit !== null && found.unit.toUpperCase() !== unit)
      return `it is in ${printable(found.unit, 20)}`;
    const samples = samplesIn(block, found.form);
    if (samples === null || samples.length !== found.points) {
      const bytes = `${block.length} bytes for ${found.points} points of ${found.form.bits} bits`;
      this.#around.faults.count('not-understood', `${input.channel} is not read: ${bytes}`);
      throw new OutOfStep('a block has another length than was said');
    }
    const { startSeconds, stepSeconds } = found;
    const factor = this.#factorOf(input);
    const [scale, offset] = [found.scale * factor, found.offset * factor];
    const { channel } = input;
    const acquisition = this.#acquisition;
    return {
      atMs,
      channel,
      unit,
      samples,
      scale,
      offset,
      startSeconds,
      stepSeconds,
      coupling,
      attenuation,
      acquisition,
    };
  }

  /** A scope that knows nothing of probes shows what is at its input; what the probe divides by is put back here. */
  #factorOf({ attenuation }: ScopeInput): number {
    return this.#around.settings.dialect.attenuation === null ? (attenuation ?? 1) : 1;
  }

  /** Whether nobody turned a knob between the preamble and the samples: then a second preamble says the same. */
  *#isUnturned(input: ScopeInput, capture: Capture): Talk<boolean> {
    const { dialect, samples } = this.#around.settings;
    if (dialect.preamble === null) return true; // one answer said it all
    this.#sendAll(dialect.input.map((command) => filled(command, input)));
    const { text } = yield* this.#inStep.ask(filled(dialect.preamble.ask, input));
    const now = readPreamble(text, dialect.preamble, samples.bits);
    const factor = this.#factorOf(input);
    const isSame =
      typeof now !== 'string' &&
      now.points === capture.samples.length &&
      now.scale * factor === capture.scale &&
      now.offset * factor === capture.offset &&
      now.startSeconds === capture.startSeconds &&
      now.stepSeconds === capture.stepSeconds;
    const saying = `${input.channel} is not read: the scope was set otherwise meanwhile`;
    if (!isSame) this.#around.faults.count('not-understood', saying, text);
    return isSame;
  }

  #isNew(capture: Capture): boolean {
    const isNew = this.#seen.isNew(capture);
    const why = 'its samples are those of the capture before; set the trigger to auto';
    if (!isNew) this.#around.faults.count('not-understood', `${capture.channel} is not read: ${why}`);
    return isNew;
  }

  /** Null for a word that the dialect doesn't know. */
  *#coupling(input: ScopeInput): Talk<Coupling | null> {
    const { coupling } = this.#around.settings.dialect;
    if (coupling === null) return 'unknown';
    const { text } = yield* this.#inStep.ask(filled(coupling.ask, input));
    const word = text.trim().toUpperCase();
    return Object.hasOwn(coupling.answers, word) ? (coupling.answers[word] ?? null) : null;
  }

  /** What the scope divides by; words when it isn't what the probe does, for then every value would be wrong. */
  *#attenuation(input: ScopeInput): Talk<number | null | string> {
    const { attenuation } = this.#around.settings.dialect;
    if (attenuation === null) return input.attenuation;
    const { text } = yield* this.#inStep.ask(filled(attenuation.ask, input));
    const found = numberIn(text);
    if (found === null || found <= 0) return `its probe factor is not understood (${printable(text, 40)})`;
    if (input.attenuation !== null && Math.abs(found / input.attenuation - 1) > 1e-6) {
      return `the scope takes its probe for ${found}:1, the bench file for ${input.attenuation}:1`;
    }
    return found;
  }

  *#waveform(input: ScopeInput): Talk<Interchange & { readonly answer: Answer }> {
    const { dialect, mostPoints, samples } = this.#around.settings;
    const bytesEach = samples.bits / 8;
    const mostBytes = mostPoints * bytesEach;
    const question = filled(dialect.data, input);
    if (dialect.preamble !== null) {
      const { text } = yield* this.#inStep.ask(filled(dialect.preamble.ask, input));
      const scaling = this.#understood(readPreamble(text, dialect.preamble, samples.bits), text);
      const indefiniteBytes = (): number => scaling.points * bytesEach;
      const answer = yield* this.#askBlock(question, { mostBytes, indefiniteBytes });
      return { ...scaling, form: samples, unit: null, answer };
    }
    const indefiniteBytes = (before: string): number | null => {
      const points = pointsPromised(before);
      return points === null ? null : points * bytesEach;
    };
    const answer = yield* this.#askBlock(question, { mostBytes, indefiniteBytes });
    return { ...this.#understood(readInterchange(answer.text, samples), answer.text), answer };
  }

  *#askBlock(question: string, rules: BlockRules): Talk<Answer> {
    const { allowBlocks, settings } = this.#around;
    allowBlocks(rules);
    const limits = { withinMs: LONGEST_TRANSFER_MS, silenceMs: settings.timeoutMs };
    const answer = yield* this.#inStep.ask(question, limits);
    allowBlocks(null);
    return answer;
  }

  #understood<Found>(found: Found | string, text: string): Found {
    if (typeof found !== 'string') return found;
    this.#around.faults.count('not-understood', found, text);
    throw new OutOfStep('a preamble was not understood');
  }

  #sendAll(commands: readonly string[]): void {
    commands.forEach((command) => this.#inStep.say(command));
  }
}

function filled(command: string, { attenuation, input }: ScopeInput): string {
  return command.replaceAll('{input}', String(input)).replaceAll('{attenuation}', String(attenuation ?? 1));
}

function unitOf({ measures, name }: ChannelSpec): readonly (readonly [string, 'V' | 'A'])[] {
  if (measures === 'dc-volts' || measures === 'ac-volts') return [[name, 'V']];
  return measures === 'dc-amps' || measures === 'ac-amps' ? [[name, 'A']] : [];
}
