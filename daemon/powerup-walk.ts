import type { Check } from './procedure/step.js';
import { PowerupStory, type CurrentStep } from './powerup-story.js';
import { PowerupKeys, type Asked, type Wish } from './powerup-keys.js';
import type { PowerupScreen } from './powerup-screen.js';
import { answeredLine, askLines, liveLine } from './powerup-text.js';
import type { StepMessage } from './serve/messages.js';
import type { Session } from './session.js';
import { TerminalTyping } from './terminal-typing.js';
import type { Effect } from './watch/effects.js';

const HELP =
  'Keys: n or Enter next, o override, b back, a abort, c another check, t type a named reading, q quit.';

/** The walk through a power-up at a terminal: prints the step, asks its checks, shows what is read, takes keys. */
export class PowerupWalk {
  readonly keys: PowerupKeys;
  readonly #session: Session;
  readonly #screen: PowerupScreen;
  readonly #story: PowerupStory;
  readonly #typing: TerminalTyping;
  readonly #onQuit: () => void;
  /** Place in the list of checks of the one that is asked. */
  #asking = 0;

  constructor(session: Session, screen: PowerupScreen, onQuit: () => void) {
    this.#session = session;
    this.#screen = screen;
    this.#story = new PowerupStory(session, screen);
    this.#onQuit = onQuit;
    this.#typing = new TerminalTyping(session, screen.print, { asks: false });
    this.keys = new PowerupKeys(
      () => this.#asked(),
      (wish) => this.#take(wish),
    );
    session.onStep((_event, _state, effects) => {
      for (const effect of effects) this.#tell(effect);
    });
  }

  begin(): void {
    this.#screen.print(HELP);
    this.#next();
  }

  /** Writes the live line. */
  show(): void {
    const current = this.#current();
    const typing = this.keys.typing;
    if (typing !== null) this.#screen.live(typing);
    else if (current !== null) this.#screen.live(liveLine(current.step, current.state, this.#session.state));
  }

  #take(wish: Wish): void {
    switch (wish.kind) {
      case 'next':
        return this.#next();
      case 'quit':
        return this.#onQuit();
      case 'other-check':
        return this.#askAnother();
      case 'text':
        return this.#typed(wish.text);
      case 'back':
        return this.#act({ action: 'back' });
      case 'override':
      case 'abort':
        return this.#act({ action: wish.kind, reason: wish.text });
      case 'sign':
        return this.#act({ action: 'sign', name: wish.text });
    }
  }

  #next(): void {
    const { procedure, plan } = this.#session.state;
    const steps = plan.procedure?.steps ?? [];
    const next = steps[(procedure?.at ?? -1) + 1] ?? steps.at(-1);
    if (next !== undefined) this.#send({ kind: 'step', step: next.id, action: 'begin' });
  }

  #act(action: Act): void {
    const step = this.#current()?.step.id ?? '';
    this.#send({ kind: 'step', step, ...action });
  }

  #send(message: StepMessage): void {
    const why = this.#session.act(message);
    if (why !== null) this.#story.say(`Not done: ${why}`);
  }

  /** To the check that is asked; else to a test point that a person reads. */
  #typed(text: string): void {
    const check = this.#checkAsked();
    const isNamed = /^[a-z]/.test(text) && text.includes('.');
    if (check !== null && !isNamed) return this.#act({ action: 'answer', check: check.id, text });
    const point = this.#pointAsked();
    if (!this.#typing.isWanted || (!isNamed && point === null)) {
      return this.#story.say(
        'Nothing is asked now. n goes on; t types a reading with the name of its test point.',
      );
    }
    this.#typing.take(isNamed ? text : `${point ?? ''} ${text}`);
    const current = this.#current();
    if (current?.state.status === 'running') this.#askPoint();
  }

  /** The first test point of the step that nothing was kept of. */
  #pointAsked(): string | null {
    const current = this.#current();
    if (current === null) return null;
    const { step, state } = current;
    const open = step.points.find(({ point }) => state.captured[point]?.verdict !== 'inside');
    return (open ?? step.points[0])?.point ?? null;
  }

  #asked(): Asked {
    const current = this.#current();
    const check = this.#checkAsked();
    return {
      yesNo: check !== null && check.number === null,
      name: current?.step.gate === 'signed' && this.#session.state.procedure?.ended === null,
    };
  }

  /** The one whose turn it is, unless it is answered and inside. */
  #checkAsked(): Check | null {
    const current = this.#current();
    const check = current?.step.checks[this.#asking];
    return check === undefined || current === null || current.state.answers[check.id]?.inside === true
      ? null
      : check;
  }

  #askAnother(): void {
    const count = this.#current()?.step.checks.length ?? 0;
    if (count === 0) return;
    this.#asking = (this.#asking + 1) % count;
    const check = this.#current()?.step.checks[this.#asking];
    for (const line of check === undefined ? [] : askLines(check)) this.#screen.print(line);
  }

  /** The first that isn't inside, or a test point to read by eye. */
  #ask({ step, state }: CurrentStep): void {
    const open = step.checks.findIndex(({ id }) => state.answers[id]?.inside !== true);
    this.#asking = Math.max(0, open);
    const check = step.checks[open];
    if (check !== undefined) for (const line of askLines(check)) this.#screen.print(line);
    else this.#askPoint();
  }

  #askPoint(): void {
    const point = this.#pointAsked();
    if (this.#typing.isWanted && point !== null)
      this.#story.say(`? What does your meter show at ${point}? Type it.`);
  }

  #tell(effect: Effect): void {
    const current = this.#current();
    if (effect.kind !== 'step' || current === null) return;
    this.#story.tell(effect, current);
    if (effect.change === 'answered') this.#answered(current);
    if (effect.change === 'began') this.#ask(current);
  }

  #answered(current: CurrentStep): void {
    const check = current.step.checks[this.#asking];
    if (check !== undefined) this.#screen.print(answeredLine(check, current.state));
    this.#ask(current);
  }

  #current(): CurrentStep | null {
    const { procedure, plan } = this.#session.state;
    const step = plan.procedure?.steps[procedure?.at ?? -1];
    const state = procedure?.steps[procedure.at];
    return step === undefined || state === undefined ? null : { step, state };
  }
}

type Act = StepMessage extends infer M ? (M extends StepMessage ? Omit<M, 'kind' | 'step'> : never) : never;
