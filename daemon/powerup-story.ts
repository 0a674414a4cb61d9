import type { PowerupScreen } from './powerup-screen.js';
import { stepLines, wrapped } from './powerup-text.js';
import type { Step } from './procedure/step.js';
import type { Session } from './session.js';
import { clockWords } from './watch/clock-words.js';
import type { StepEffect } from './watch/effects.js';
import type { StepState } from './watch/procedure/procedure-state.js';
import { failureWords } from './watch/procedure/words.js';
import { valueWords } from './watch/value-words.js';

/** The step that is being done. */
export interface CurrentStep {
  readonly step: Step;
  readonly state: StepState;
}

/** Tells at the terminal what a power-up's steps do. */
export class PowerupStory {
  readonly #session: Session;
  readonly #screen: PowerupScreen;

  constructor(session: Session, screen: PowerupScreen) {
    this.#session = session;
    this.#screen = screen;
  }

  tell(effect: StepEffect, current: CurrentStep): void {
    switch (effect.change) {
      case 'began':
        return this.#began(current);
      case 'captured':
        return this.#kept(effect, current);
      case 'answered':
        return;
      case 'failed':
        return this.#failed(current);
      case 'ready':
        return this.say('All of it is inside. n: go on.');
      case 'resumed':
        return this.say('No longer wrong, but not complete yet.');
      case 'overridden':
        return this.say(`Overridden: ${effect.text}. n: go on.`);
      case 'signed':
        return this.say(`Signed off by ${effect.text}. q ends the session; the record lists every step.`);
      case 'aborted':
        return this.#aborted();
      case 'done':
      case 'left':
        return this.say(`${effect.step}: ${effect.change}`);
    }
  }

  #began(current: CurrentStep): void {
    const steps = this.#session.plan.procedure?.steps ?? [];
    const place = steps.indexOf(current.step) + 1;
    for (const line of stepLines(current.step, place, steps.length, this.#screen.red))
      this.#screen.print(line);
    if (current.step.gate === 'signed') this.#summary();
  }

  #kept({ captured, atMs }: StepEffect, { step }: CurrentStep): void {
    for (const { point, unit } of step.points) {
      const kept = captured[point];
      if (kept?.atMs !== atMs) continue;
      this.say(`kept: ${point} ${valueWords(kept.value, unit)}, ${kept.verdict}`);
    }
  }

  #failed({ step, state }: CurrentStep): void {
    const { alarms, plan } = this.#session.state;
    const facts = { procedure: plan.procedure, prediction: plan.prediction, alarms };
    const words = state.failures.map((failure) => failureWords(failure, step, state, facts));
    for (const line of words.flatMap((one) => wrapped(one, '  FAILED: ')))
      this.#screen.print(this.#screen.red(line));
    for (const line of step.whenWrong.flatMap((one) => wrapped(one, '  - '))) this.#screen.print(line);
  }

  #aborted(): void {
    const { afterAbort } = this.#session.plan.procedure ?? { afterAbort: [] };
    this.#screen.print(this.#screen.red('BROKEN OFF'));
    afterAbort.forEach((words, at) => {
      for (const line of wrapped(words, `  ${at + 1}. `)) this.#screen.print(line);
    });
  }

  /** What a name stands under. */
  #summary(): void {
    const states = this.#session.state.procedure?.steps ?? [];
    for (const { id, status, reason } of states.slice(0, -1)) {
      this.#screen.print(`  ${id.padEnd(28)} ${status}${reason === null ? '' : `: ${reason}`}`.slice(0, 79));
    }
    this.say('Enter, then your name, signs it off.');
  }

  /** A sentence with its time. */
  say(words: string): void {
    for (const line of wrapped(words, `${clockWords(this.#session.state.nowMs)}  `)) this.#screen.print(line);
  }
}
