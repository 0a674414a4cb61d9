import {
  LitElement,
  html,
  nothing,
  type CSSResultGroup,
  type PropertyValues,
  type TemplateResult,
} from 'lit';
import type {
  PointView,
  ProcedureView,
  StepMessage,
  StepView,
  TypingPlace,
} from '../../daemon/serve/messages.js';
import { keepUnits } from '../format.js';
import { sharedStyles } from '../theme.js';
import { FED, STATUS, openCheck, placeWords, titleOf } from '../walk/step-words.js';
import { mark, markStyles } from './mark.js';
import { RmWalkCheck, type CheckAnswer } from './walk-check.js';
import { RmWalkPoint } from './walk-point.js';
import { RmWalkReason } from './walk-reason.js';
import { caution, notYet, signStyles } from './walk-signs.js';
import { stepStyles } from './walk-step-styles.js';
import { tell } from '../tell.js';

/** What a person wants of the walk; whoever hears it sends it. */
export type WalkWish = StepMessage;

/** The step that is being done: what to do and to mind, what to answer, what reads what, and the ways on (`rm-walk`). */
export class RmWalkStep extends LitElement {
  static override properties = {
    procedure: { attribute: false },
    step: { attribute: false },
    points: { attribute: false },
    typing: { attribute: false },
    channels: { attribute: false },
    live: { type: Boolean },
    mayAct: { type: Boolean },
    asking: { state: true },
  };
  declare procedure: ProcedureView;
  declare step: StepView;
  declare points: readonly PointView[];
  declare typing: readonly TypingPlace[];
  declare channels: readonly string[];
  declare live: boolean;
  declare mayAct: boolean;
  /** For what the reason is asked now. */
  declare asking: 'override' | 'abort' | null;

  static override styles: CSSResultGroup = [sharedStyles, markStyles, signStyles, stepStyles];
  /** The check that was answered last, until its answer is seen to be inside. */
  #answered: string | null = null;

  constructor() {
    super();
    this.asking = null;
  }

  /** Puts the keyboard's place at the step's title. */
  reveal(): void {
    this.renderRoot.querySelector<HTMLElement>('#title')?.focus();
  }

  /** Does what a single key asks for; false when it means nothing here. */
  press(key: string): boolean {
    const check = this.#elementOf(openCheck(this.step)?.id);
    if (key === 'y' && check) check.yes();
    else if (key === 'f') this.#reachOpen();
    else {
      const target = this.renderRoot.querySelector<HTMLElement>(`[data-key="${CSS.escape(key)}"]`);
      if (target instanceof RmWalkReason) target.reach();
      else target?.click();
      return target !== null;
    }
    return true;
  }

  protected override willUpdate(changed: PropertyValues<this>): void {
    const before = changed.get('step');
    if (before !== undefined && before.id !== this.step.id) this.asking = null;
    const atHindrance = this.shadowRoot?.activeElement?.id === 'hindrance';
    // Where the keyboard's place was goes away now.
    if (atHindrance && this.procedure.whyNotNext === null)
      void this.updateComplete.then(() => this.#toNext());
  }

  protected override updated(changed: PropertyValues<this>): void {
    const before = changed.get('step');
    if (before === undefined || this.#answered === null || before.id !== this.step.id) return;
    const check = this.step.checks.find(({ id }) => id === this.#answered);
    if (check?.inside !== true) return;
    this.#answered = null;
    void this.#goOn();
  }

  protected override render(): TemplateResult {
    const { step } = this;
    const [standing, words] = STATUS[step.status];
    return html`<p class="place">
        <span>${placeWords(this.procedure, step)}, ${FED[step.feeding]}</span>
        <span class="standing">
          ${this.live ? html`${mark(standing)} ${words}` : html`${mark('not-live')} not live: it may stand elsewhere`}
        </span>
      </p>
      <h2 id="title" tabindex="-1">${step.title}</h2>
      ${notYet(step.notYet)} ${this.#failed()}
      <div class="both">
        ${this.#actions()}
        <div class="findings" @rm-answer=${(event: CustomEvent<CheckAnswer>) => this.#answer(event.detail)}>
          ${this.#checks()} ${this.#points()}
        </div>
      </div>
      ${this.#ways()}`;
  }

  #failed(): TemplateResult | typeof nothing {
    const { status, failures, whenWrong } = this.step;
    if (status !== 'failed') return nothing;
    return html`<section class="failed" aria-labelledby="wrong">
      <h3 id="wrong">${mark('outside')} Failed: the walk stops here until this is put right</h3>
      <ul>
        ${failures.map((failure) => html`<li>${keepUnits(failure)}</li>`)}
      </ul>
      ${
        whenWrong.length === 0
          ? nothing
          : html`<h4>Where to look</h4>
              <ul class="dashed">
                ${whenWrong.map((words) => html`<li>${words}</li>`)}
              </ul>`
      }
    </section>`;
  }

  #actions(): TemplateResult {
    return html`<section aria-labelledby="do">
      <h3 id="do">What to do</h3>
      <ol class="actions">
        ${this.step.actions.map(
          (action) =>
            html`<li>
              <p>${keepUnits(action.words)}</p>
              ${caution(action.caution)}
            </li>`,
        )}
      </ol>
    </section>`;
  }

  #checks(): TemplateResult | typeof nothing {
    const { checks, status } = this.step;
    const open = this.live && status !== 'overridden';
    if (checks.length === 0) return nothing;
    const inside = checks.filter((check) => check.inside === true).length;
    return html`<section aria-labelledby="check">
      <h3 id="check">Check, and write down</h3>
      <p class="small quiet">
        ${inside} of ${checks.length}
        inside.${this.mayAct ? html` <kbd>f</kbd> goes to the open one, <kbd>y</kbd> answers yes.` : nothing}
      </p>
      <div class="checks">
        ${checks.map((check) => html`<rm-walk-check id="check-${check.id}" .check=${check} ?live=${open} ?mayAct=${this.mayAct}></rm-walk-check>`)}
      </div>
    </section>`;
  }

  #points(): TemplateResult | typeof nothing {
    const shown = this.step.points.flatMap((wanted) => {
      const now = this.points.find(({ id }) => id === wanted.point);
      return now === undefined ? [] : [{ wanted, now }];
    });
    if (shown.length === 0) return nothing;
    return html`<section aria-labelledby="reads">
      <h3 id="reads">What it reads, and should read</h3>
      <div class="points">
        ${shown.map(
          ({ wanted, now }) =>
            html`<rm-walk-point
              .wanted=${wanted}
              .now=${now}
              .place=${this.typing.find(({ point }) => point === wanted.point) ?? null}
              .channels=${this.channels}
              ?live=${this.live}
            ></rm-walk-point>`,
        )}
      </div>
    </section>`;
  }

  #ways(): TemplateResult | typeof nothing {
    const { whyNotNext } = this.procedure;
    const { status, reason } = this.step;
    if (!this.mayAct && status !== 'overridden' && whyNotNext === null) return nothing;
    return html`<section class="ways" aria-labelledby="on">
      <h3 id="on">Going on</h3>
      ${status === 'overridden' ? html`<p>${mark('doubtful')} Overridden: “${reason}”. It stands so in the record.</p>` : nothing}
      ${whyNotNext === null ? nothing : html`<p id="hindrance" tabindex="-1">${keepUnits(whyNotNext)}</p>`}
      ${this.mayAct ? this.#wayButtons() : nothing}
    </section>`;
  }

  #wayButtons(): TemplateResult {
    const { next, whyNotNext, steps } = this.procedure;
    const { status, kind, id } = this.step;
    return html`${kind === 'sign-off' ? this.#sign() : nothing}
      <div class="row">
        ${
          next === null
            ? nothing
            : html`<button
                class="button strong next"
                data-key="n"
                aria-disabled=${whyNotNext !== null}
                aria-describedby="hindrance"
                ?disabled=${!this.live}
                @click=${() => this.#next(next)}
              >
                Go on: ${titleOf(this.procedure, next)} <kbd>n</kbd>
              </button>`
        }
        ${kind === 'sign-off' || status === 'overridden' ? nothing : this.#asker('override', 'o', 'Override …')}
        ${
          id === steps[0]?.id
            ? nothing
            : html`<button
                class="button"
                data-key="u"
                ?disabled=${!this.live}
                @click=${() => this.#wish({ action: 'back' })}
              >
                One step back <kbd>u</kbd>
              </button>`
        }
        ${this.#asker('abort', 'x', 'Break off …')}
      </div>
      ${this.asking === null ? nothing : this.#reason(this.asking)}`;
  }

  #asker(what: 'override' | 'abort', key: string, words: string): TemplateResult {
    return html`<button
      class="button ${what}"
      data-key=${key}
      aria-expanded=${this.asking === what}
      ?disabled=${!this.live}
      @click=${() => this.#ask(what)}
    >
      ${words} <kbd>${key}</kbd>
    </button>`;
  }

  #reason(asking: 'override' | 'abort'): TemplateResult {
    const isAbort = asking === 'abort';
    return html`<div class="reason ${asking}">
      <p>
        ${
          isAbort
            ? html`<b>${this.procedure.afterAbort[0] ?? ''}</b> Then write down why, if you like; what to do
                next comes at once.`
            : 'Going on although this step is not inside is yours to answer for. Your reason goes into the record and the report.'
        }
      </p>
      <rm-walk-reason
        .ask=${isAbort ? 'Why it is broken off (may stay empty)' : 'Why you go on all the same'}
        .does=${isAbort ? 'Break off' : 'Override this step'}
        .letters=${isAbort ? 0 : 3}
        optional
        ?live=${this.live}
        @rm-words=${(event: CustomEvent<string>) => this.#reasoned(asking, event.detail)}
        @rm-words-not=${() => this.#dropReason(asking)}
      ></rm-walk-reason>
    </div>`;
  }

  #sign(): TemplateResult {
    return html`<rm-walk-reason
      data-key="n"
      .ask=${'Your name'}
      .does=${'Sign off'}
      .letters=${2}
      ?live=${this.live}
      @rm-words=${(event: CustomEvent<string>) => this.#wish({ action: 'sign', name: event.detail })}
    ></rm-walk-reason>`;
  }

  #next(step: string): void {
    if (this.procedure.whyNotNext === null) this.#wish({ action: 'begin' }, step);
    else this.renderRoot.querySelector<HTMLElement>('#hindrance')?.focus();
  }

  #ask(what: 'override' | 'abort'): void {
    this.asking = what;
    void this.updateComplete.then(async () => {
      const reason = this.renderRoot.querySelector('.reason rm-walk-reason');
      if (!(reason instanceof RmWalkReason)) return;
      await reason.updateComplete;
      reason.reach();
    });
  }

  #reasoned(action: 'override' | 'abort', reason: string): void {
    this.asking = null;
    this.#wish({ action, reason });
    void this.updateComplete.then(() => this.#toNext());
  }

  #dropReason(what: 'override' | 'abort'): void {
    this.asking = null;
    this.renderRoot.querySelector<HTMLElement>(`button.${what}`)?.focus();
  }

  #answer({ check, text }: CheckAnswer): void {
    this.#answered = check;
    this.#wish({ action: 'answer', check, text });
  }

  /** From an answered check to what is open next. */
  async #goOn(): Promise<void> {
    await this.updateComplete;
    if (!this.#reachOpen()) this.#toNext();
  }

  #toNext(): void {
    this.renderRoot.querySelector<HTMLElement>('.next')?.focus();
  }

  #reachOpen(): boolean {
    const check = this.#elementOf(openCheck(this.step)?.id);
    check?.reach();
    if (check) return true;
    const open = [...this.renderRoot.querySelectorAll('rm-walk-point')].find(
      (one) => one instanceof RmWalkPoint && one.place !== null && one.wanted.captured?.verdict !== 'inside',
    );
    if (open instanceof RmWalkPoint) open.reach();
    return open !== undefined;
  }

  #elementOf(check: string | undefined): RmWalkCheck | null {
    const element = check === undefined ? null : this.renderRoot.querySelector(`#check-${CSS.escape(check)}`);
    return element instanceof RmWalkCheck ? element : null;
  }

  #wish(action: WishAction, step = this.step.id): void {
    const detail: WalkWish = { kind: 'step', step, ...action };
    tell(this, 'rm-walk', detail);
  }
}

type WishAction = StepMessage extends infer M
  ? M extends StepMessage
    ? Omit<M, 'kind' | 'step'>
    : never
  : never;

customElements.define('rm-walk-step', RmWalkStep);
