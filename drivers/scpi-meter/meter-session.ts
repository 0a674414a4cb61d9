import type { ChannelSpec } from '../driver.js';
import { readingMaker } from '../reading-of.js';
import type { Script } from '../scpi/conversation.js';
import {
  InStep,
  LONGEST_WAIT_FOR_QUIET_MS,
  MOST_ERRORS_AT_ONCE,
  OutOfStep,
  type Answer,
  type Talk,
  type TalkSurroundings,
} from '../scpi/in-step.js';
import { FunctionCheck, FunctionNotSaid } from './function-check.js';
import { configureCommand, integrationCommand, UNIT_COMMAND } from './functions.js';
import { parseReply, valueAt } from './reply.js';
import { firstWay, isCommandError, type WayOfReading } from './ways-of-reading.js';

export interface MeterSettings {
  readonly intervalMs: number;
  readonly timeoutMs: number;
  readonly firstCommands: readonly string[];
  /** Fixed ranges by channel; the others choose their range themselves. */
  readonly ranges: ReadonlyMap<string, number>;
  /** Mains cycles over which one reading is integrated; the meter's own choice when null. */
  readonly integrationCycles: number | null;
  /** Which of several comma-separated values is the reading, from 1; null where an answer is one value. */
  readonly answerField: number | null;
}

export interface MeterSurroundings extends Omit<
  TalkSurroundings,
  'asksEvents' | 'onLate' | 'kind' | 'timeoutMs'
> {
  readonly channels: readonly ChannelSpec[];
  readonly settings: MeterSettings;
}

/** Silence after a reading that may have been a late one, in which a second one would show that it was. */
const QUIET_AFTER_DOUBTFUL_MS = 300;
const MOST_REFUSALS = 3;
/** No bench meter is switched off and measures again within this; common practice. */
const FASTEST_RESTART_MS = 3000;

const LIKE_A_READING = /^\s*[+-]?[\d.]+(?:[eE][+-]?\d+\.*)?(?:[^\d.,;][^\d,;]*)?$/;
const LIKE_SEVERAL_VALUES = /^\s*[+-]?[\d.][^,;]*(?:,[^,;"]*)+$/;

/**
 * What is said to a meter during one connection. Beside keeping in step, the first reading after one that was given
 * up isn't shown unless the late one has been seen, for devices that don't answer in order.
 */
export class MeterSession {
  readonly #around: MeterSurroundings;
  readonly #inStep: InStep;
  readonly #functionCheck: FunctionCheck;
  readonly #refusals = new Map<string, number>();
  #configured: string | null = null;
  #everConfigured = false;
  #turn = 0;
  /** A reading was given up and its answer hasn't been seen since. */
  #owesReading = false;
  #way: WayOfReading = firstWay();
  /** Whether `#way` has brought a reading: from then on it is kept. */
  #isProven = false;
  #askedUnproven = false;
  #saidNoIntegration = false;
  /** Whether the unit of temperatures can't be set: then it is the meter's own, and isn't sent again. */
  #hasNoUnit = false;
  /** When the latest round ended. */
  #roundMs = 0;

  constructor(around: MeterSurroundings) {
    this.#around = around;
    this.#inStep = new InStep({
      ...around,
      timeoutMs: around.settings.timeoutMs,
      kind: 'a SCPI meter',
      asksEvents: true,
      onLate: (text) => this.#noteLate(text),
    });
    this.#functionCheck = new FunctionCheck(this.#inStep, around.clock);
  }

  *script(): Script {
    const { clock, states } = this.#around;
    yield* this.#inStep.identify('*CLS');
    for (let when = 'before the first reading'; ; when = 'after an answer was missing or wrong') {
      try {
        yield* this.#setUp(when);
        for (;;) {
          yield* this.#round();
          if (clock.nowMs() - this.#roundMs >= FASTEST_RESTART_MS) yield* this.#setUp('after a pause');
        }
      } catch (problem) {
        if (!(problem instanceof OutOfStep)) throw problem;
        states.notReading(problem.message);
        yield* this.#inStep.identify(problem instanceof FunctionNotSaid ? '*CLS' : undefined);
      }
    }
  }

  /** From power-on: a meter on a serial line may have been switched off and on again without anybody seeing it. */
  *#setUp(when: string): Talk<void> {
    const { channels, settings } = this.#around;
    const isUnitSet = !this.#hasNoUnit && channels.some(({ measures }) => measures === 'temperature');
    this.#configured = null;
    settings.firstCommands.forEach((command) => this.#inStep.say(command));
    if (isUnitSet) this.#inStep.say(UNIT_COMMAND);
    const said = isUnitSet ? `${when}, ${UNIT_COMMAND} having been sent` : when;
    const errors = yield* this.#inStep.showErrors(said);
    this.#hasNoUnit ||= isUnitSet && errors.some(isCommandError);
    this.#considerWay(errors);
  }

  /** Goes through all channels once, beginning after the one that was asked last, and waits for the next round. */
  *#round(): Talk<void> {
    const { channels, clock, settings } = this.#around;
    const startMs = clock.nowMs();
    for (let asked = 0; asked < channels.length; asked += 1) {
      const channel = channels[this.#turn % channels.length];
      this.#turn = (this.#turn + 1) % channels.length;
      if (channel === undefined) continue;
      const before = this.#configured;
      if (yield* this.#configure(channel)) yield* this.#read(channel, this.#configured === before);
    }
    this.#roundMs = clock.nowMs();
    yield { for: 'delay', delayMs: Math.max(0, startMs + settings.intervalMs - this.#roundMs) };
  }

  /** False when the meter refuses: it would go on measuring what it did before and call it this channel's value. */
  *#configure(channel: ChannelSpec): Talk<boolean> {
    const refusals = this.#refusals.get(channel.name) ?? 0;
    if (refusals >= MOST_REFUSALS) return false;
    const range = this.#around.settings.ranges.get(channel.name);
    if (!this.#way.needsConfigure) return true;
    const command = configureCommand(channel.measures, range);
    if (this.#configured === command) return true;
    this.#configured = null;
    this.#inStep.say(command);
    const errors = yield* this.#inStep.showErrors(`after ${command}, so ${channel.name} is not read`);
    if (errors.length > 0) {
      this.#refuse(channel, errors);
      return false;
    }
    this.#refusals.delete(channel.name);
    this.#everConfigured = true;
    this.#configured = command;
    yield* this.#setIntegration(channel);
    return true;
  }

  /** A meter that refuses to be configured for anything at all may still take everything in one question. */
  #refuse({ name }: ChannelSpec, errors: readonly number[]): void {
    this.#refusals.set(name, (this.#refusals.get(name) ?? 0) + 1);
    const allRefused = this.#around.channels.every(
      (channel) => (this.#refusals.get(channel.name) ?? 0) >= MOST_REFUSALS,
    );
    const isClear = errors.length < MOST_ERRORS_AT_ONCE && errors.some(isCommandError);
    const next = this.#way.next();
    if (allRefused && isClear && !this.#everConfigured && next !== null) this.#take(next);
  }

  /** A meter without this setting still reads rightly, so it's told once and left at that. */
  *#setIntegration({ measures }: ChannelSpec): Talk<void> {
    const { integrationCycles } = this.#around.settings;
    if (integrationCycles === null || this.#saidNoIntegration) return;
    const command = integrationCommand(measures, integrationCycles);
    if (command === null) return;
    this.#inStep.say(command);
    const errors = yield* this.#inStep.showErrors(
      `after ${command}; the meter keeps its own integration time`,
    );
    this.#saidNoIntegration = errors.length > 0;
  }

  /** `mayBeTurned`: the meter was configured for this some time ago, and a person may have set it otherwise since. */
  *#read(channel: ChannelSpec, mayBeTurned: boolean): Talk<void> {
    const { emit, faults, settings, states } = this.#around;
    if (this.#owesReading) yield* this.#passOverDoubtful(channel);
    this.#owesReading = true;
    const answer = yield* this.#askReading(channel);
    // What comes with junk right behind it may be junk itself: that can look like a number.
    if (this.#around.conversation.hasUnreadable) throw new OutOfStep('an answer came with junk behind it');
    this.#owesReading = false;
    const text = settings.answerField === null ? answer.text : valueAt(answer.text, settings.answerField);
    const reply = text === null ? null : parseReply(text, channel.measures);
    if (reply === null) {
      faults.count(
        'not-understood',
        `no single number of ${channel.measures}${this.#cure(answer)}`,
        answer.text,
      );
      throw new OutOfStep('the last answer was no reading');
    }
    if (this.#way.before !== null && !this.#isProven && (yield* this.#isRefused(channel))) return;
    this.#isProven = true;
    const isChecked = mayBeTurned && this.#way.needsConfigure;
    const said = isChecked ? yield* this.#functionCheck.ask(channel.measures) : 'same';
    if (typeof said === 'object') return this.#setBack(channel, said.another);
    states.reading();
    emit(readingMaker(channel)(reply.value, reply.mark, answer.atMs));
    if (said === 'nothing') throw new FunctionNotSaid();
  }

  #setBack({ name }: ChannelSpec, another: string): void {
    this.#configured = null;
    const saying = `${name} is not shown: the meter was set by hand; it is set back`;
    this.#around.faults.count('instrument-error', saying, another);
  }

  #cure({ text }: Answer): string {
    const { answerField } = this.#around.settings;
    if (answerField !== null || !LIKE_SEVERAL_VALUES.test(text)) return '';
    return ', but several; say which is the reading with answer_field';
  }

  *#askReading(channel: ChannelSpec): Talk<Answer> {
    const { settings } = this.#around;
    if (this.#way.before !== null) this.#inStep.say(this.#way.before);
    this.#askedUnproven = !this.#isProven;
    return yield* this.#inStep.ask(this.#way.question(channel.measures, settings.ranges.get(channel.name)));
  }

  /** A command before the question that is refused stays silent: the answer would be an old one. */
  *#isRefused(channel: ChannelSpec): Talk<boolean> {
    const errors = yield* this.#inStep.showErrors(`after the first reading of ${channel.name}`);
    this.#considerWay(errors);
    return errors.length > 0;
  }

  /** Takes the next way when the meter doesn't know the words of this one. A bad command is only silent at first. */
  #considerWay(errors: readonly number[]): void {
    if (this.#isProven || !this.#askedUnproven || !errors.some(isCommandError)) return;
    this.#take(this.#way.next() ?? firstWay());
  }

  #take(way: WayOfReading): void {
    this.#askedUnproven = false;
    this.#way = way;
    this.#configured = null;
    this.#refusals.clear();
  }

  /** Asks for a reading that may get the late answer of an earlier one. Should both come, the next question tells. */
  *#passOverDoubtful(channel: ChannelSpec): Talk<void> {
    const { text } = yield* this.#askReading(channel);
    this.#around.faults.count('late-answer', 'not shown: it may belong to a READ? that was given up', text);
    yield { for: 'quiet', quietMs: QUIET_AFTER_DOUBTFUL_MS, withinMs: LONGEST_WAIT_FOR_QUIET_MS };
    this.#owesReading = false;
  }

  #noteLate(text: string): void {
    const severalWanted = this.#around.settings.answerField !== null;
    if (LIKE_A_READING.test(text) || (severalWanted && LIKE_SEVERAL_VALUES.test(text)))
      this.#owesReading = false;
  }
}
