import type { InstrumentEvent } from '../driver.js';
import { faultTeller } from '../fault-teller.js';
import { Echoes } from '../lines/echoes.js';
import { lineReader, type LineReader } from '../lines/line-reader.js';
import { LinkNotOpen } from '../links/link-not-open.js';
import { stateTeller } from '../state-teller.js';
import { Superseded, type Output, type OutputContext, type OutputEvent, type Position } from './output.js';

/** The words of a device that is switched by lines of text. */
export interface LineWords {
  readonly on: string;
  readonly off: string;
  readonly ask: string;
  /** Sent at the interval while power is on. */
  readonly alive: string;
  readonly aliveMs: number;
  /** Time for an answer. */
  readonly timeoutMs: number;
  /** What a line of the device says; null when it says nothing of the position. */
  positionIn(line: string): 'on' | 'off' | null;
}

/** Power is taken away harder than it is given. */
const TRIES: Readonly<Record<'on' | 'off', number>> = { on: 1, off: 3 };
/** So many questions may go unanswered beside those whose answer may still be under way. */
const MOST_UNANSWERED = 2;
const WORDS: Readonly<Record<Position, string>> = {
  on: 'power is on',
  off: 'power is off',
  unknown: 'its position is not known',
};

interface Wanted {
  readonly position: 'on' | 'off';
  readonly resolve: () => void;
  readonly reject: (problem: Error) => void;
  tries: number;
}

/** An output that is switched by lines of text and answers with its position. */
export function lineOutput(context: OutputContext, words: LineWords): Output {
  return new LineOutput(context, words);
}

class LineOutput implements Output {
  readonly #context: OutputContext;
  readonly #words: LineWords;
  readonly #faults;
  readonly #states;
  #position: Position = 'unknown';
  #reader: LineReader | null = null;
  #echoes = new Echoes();
  /** Whether what is sent comes back on this connection. */
  #isEchoed = false;
  /** What whoever decides knows of the position; null before anything was asked for. */
  #known: Position | null = null;
  /** Power was let through by us and hasn't been taken away: only then is the keep-alive sent. */
  #isHeldOn = false;
  /** We asked for power, and the device hasn't said since that it is gone: it may pass, whatever was answered. */
  #mayPass = false;
  #wanted: Wanted | null = null;
  /** Of what is wanted now. */
  #answer: Promise<void> = Promise.resolve();
  #cancelTimer: () => void = () => undefined;
  #aliveAtMs = -Infinity;
  /** Questions of the keep-alive since it spoke last of its position. */
  #unanswered = 0;
  readonly #mostUnanswered: number;
  #isStopped = false;

  constructor(context: OutputContext, words: LineWords) {
    this.#context = context;
    this.#words = words;
    this.#mostUnanswered = MOST_UNANSWERED + Math.ceil(words.timeoutMs / words.aliveMs);
    const { clock, emit, link } = context;
    const tell = (event: InstrumentEvent): void => emit(event as OutputEvent);
    this.#faults = faultTeller(clock, tell);
    this.#states = stateTeller(clock, tell);
    link.start({
      onState: (state) => {
        const isOpen = state.kind === 'open' || state.kind === 'back';
        this.#reader?.end();
        this.#reader = isOpen ? this.#newReader() : null;
        this.#echoes = new Echoes();
        this.#isEchoed = false;
        this.#unanswered = 0;
        this.#states.link(state);
        this.#forget(state.kind === 'closed' ? 'the output was stopped' : 'its link was lost');
        if (isOpen) this.#send(words.ask);
      },
      onBytes: (chunk) => this.#reader?.push(chunk, clock.nowMs()),
    });
  }

  get position(): Position {
    return this.#position;
  }

  on(): Promise<void> {
    // One that isn't connected hears nothing of it.
    this.#mayPass ||= this.#reader !== null;
    return this.#switch('on');
  }

  off(): Promise<void> {
    this.#isHeldOn = false;
    return this.#switch('off');
  }

  keepAlive(): void {
    const { alive, aliveMs, ask } = this.#words;
    const nowMs = this.#context.clock.nowMs();
    if (nowMs - this.#aliveAtMs < aliveMs) return;
    this.#aliveAtMs = nowMs;
    if (this.#isHeldOn && alive !== ask) this.#send(alive);
    if (this.#reader === null || this.#wanted !== null) return;
    this.#send(ask);
    this.#unanswered += 1;
    if (this.#unanswered === this.#mostUnanswered + 1) this.#missed();
  }

  /** Whoever relies on it has to know that it answers nothing, before power is to be taken away. */
  #missed(): void {
    this.#position = 'unknown';
    this.#faults.count('no-answer', `its last ${this.#unanswered} questions were not answered`);
    const why = 'it answers nothing any more, so its position is not known; look at its power and its cable';
    this.#tell('lost', why);
  }

  async stop(): Promise<string | null> {
    const why = !this.#isStopped && this.#mayPass ? await this.off().then(() => null, messageOf) : null;
    this.#isStopped = true;
    this.#faults.stop();
    await this.#context.link.stop();
    return why;
  }

  #switch(position: 'on' | 'off'): Promise<void> {
    if (this.#isStopped) return Promise.reject(new Error('the output was stopped'));
    if (this.#wanted?.position === position) return this.#answer;
    this.#reject(new Superseded(this.#context.link.name));
    this.#answer = new Promise((resolve, reject) => {
      this.#wanted = { position, resolve, reject, tries: 0 };
      this.#try();
    });
    return this.#answer;
  }

  #try(): void {
    const wanted = this.#wanted;
    if (wanted === null) return;
    const { on, off, ask, timeoutMs } = this.#words;
    wanted.tries += 1;
    this.#send(wanted.position === 'on' ? on : off);
    this.#send(ask);
    // It may have answered within the call.
    if (this.#wanted !== wanted) return;
    this.#cancelTimer = this.#context.clock.after(timeoutMs, () => {
      if (wanted.tries < TRIES[wanted.position]) return this.#try();
      this.#faults.count('no-answer', `it doesn't say that ${WORDS[wanted.position]}`);
      this.#giveUp(`it didn't say that ${WORDS[wanted.position]} within ${timeoutMs} ms`);
    });
  }

  #newReader(): LineReader {
    return lineReader({
      onLine: (line) => this.#take(line),
      onFault: (code, detail) => this.#faults.count(code, detail),
    });
  }

  /** An echo shows by the question, which comes first and says nothing of the position as a command's echo might. */
  #isEcho(line: string): boolean {
    const words = this.#words;
    this.#isEchoed ||= line.trim() === words.ask.trim() && words.positionIn(line) === null;
    return this.#isEchoed && this.#echoes.take(line);
  }

  #take(line: string): void {
    if (line.trim() === '' || this.#isEcho(line)) return;
    const said = this.#words.positionIn(line);
    if (said === null) return this.#faults.count('not-understood', 'it says nothing of its position', line);
    this.#unanswered = 0;
    const wanted = this.#wanted;
    if (said === 'off' && (this.#position === 'on' || wanted?.position === 'off')) this.#mayPass = false;
    if (said !== this.#position) {
      this.#position = said;
      const isByItself = said === 'off' && this.#isHeldOn;
      this.#tell('open', isByItself ? 'power is off: the device took it away by itself' : WORDS[said]);
    }
    if (said === 'off') this.#isHeldOn = false;
    if (wanted === null) return this.#tellNews(said);
    if (wanted.position !== said) return;
    this.#cancelTimer();
    this.#wanted = null;
    this.#known = said;
    if (said === 'on') {
      this.#isHeldOn = true;
      this.#aliveAtMs = this.#context.clock.nowMs();
    }
    wanted.resolve();
  }

  #tell(state: 'open' | 'lost', why: string): void {
    this.#context.emit({ kind: 'state', atMs: this.#context.clock.nowMs(), state, why });
  }

  /** Says that it is elsewhere than it was told to be, or at last where it didn't say that it went. */
  #tellNews(position: 'on' | 'off'): void {
    if (this.#known === null || this.#known === position) return;
    this.#known = position;
    this.#context.emit({ kind: 'position', atMs: this.#context.clock.nowMs(), position });
  }

  /** After a loss nothing is known, and nothing is switched on again without being asked for. */
  #forget(why: string): void {
    this.#position = 'unknown';
    this.#isHeldOn = false;
    this.#giveUp(why);
  }

  #giveUp(why: string): void {
    this.#reject(new Error(`${this.#context.link.name}: ${why}; switch the supply off at the mains`));
  }

  #reject(problem: Error): void {
    const wanted = this.#wanted;
    if (wanted === null) return;
    this.#cancelTimer();
    this.#wanted = null;
    this.#known = 'unknown';
    wanted.reject(problem);
  }

  #send(line: string): void {
    this.#echoes.sent(line);
    this.#context.link.write(Buffer.from(`${line}\n`)).catch((problem: unknown) => {
      // The link's state says so already; who waits is told at once.
      if (problem instanceof LinkNotOpen) return this.#giveUp('it is not connected');
      this.#faults.count('write-failed', `${line}: ${messageOf(problem)}`);
    });
  }
}

function messageOf(problem: unknown): string {
  return problem instanceof Error ? problem.message : String(problem);
}
