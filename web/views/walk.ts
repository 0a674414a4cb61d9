import { LitElement, css, html, nothing, type CSSResultGroup, type TemplateResult } from 'lit';
import type { ProcedureView } from '../../daemon/serve/messages.js';
import type { ProbeMove } from '../elements/probe.js';
import type { Typed } from '../elements/typing.js';
import '../elements/walk-path.js';
import { caution, signStyles } from '../elements/walk-signs.js';
import { RmWalkStep, type WalkWish } from '../elements/walk-step.js';
import { keepUnits } from '../format.js';
import { singleKey } from '../key-commands.js';
import { sharedStyles } from '../theme.js';
import { currentStep, titleOf } from '../walk/step-words.js';
import type { Shared, ViewElement } from './view.js';

/** The first power-up, one step after the other. */
export class RmWalkView extends LitElement implements ViewElement {
  static override properties = { shared: { attribute: false } };
  declare shared: Shared;

  static override styles: CSSResultGroup = [
    sharedStyles,
    signStyles,
    css`
      .page {
        display: grid;
        gap: 2rem clamp(1.5rem, 4vw, 4rem);
        padding: 1.3rem var(--side) 3rem;
      }
      .page > * {
        min-width: 0;
      }
      @media (min-width: 60rem) {
        .page {
          grid-template-columns: 1fr minmax(13rem, 20rem);
        }
      }
      .plain > * {
        max-width: 44rem;
        margin-top: 0.8rem;
      }
      .plain ol,
      .plain ul {
        padding-inline-start: 1.5rem;
        list-style: decimal;
      }
      .plain ul {
        list-style: disc;
      }
      li + li {
        margin-top: 0.4rem;
      }
      h2 {
        font-size: 1.6rem;
      }
      code {
        overflow-wrap: anywhere;
        font-size: 0.95em;
      }
      .off {
        padding: 0.8rem 1rem 1rem;
        border: 2px solid var(--forbidden);
        border-radius: 0.5rem;
        font-size: 1.1rem;
      }
    `,
  ];

  /** What the title is of that the keyboard's place was put at last; null before anything was shown. */
  #revealed: string | null = null;
  #onKey = (event: KeyboardEvent): void => this.#key(event);

  override connectedCallback(): void {
    super.connectedCallback();
    window.addEventListener('keydown', this.#onKey);
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    window.removeEventListener('keydown', this.#onKey);
    this.#revealed = null;
  }

  protected override render(): TemplateResult {
    const { procedure } = this.shared.state;
    if (procedure === null) return html`<div class="page">${this.#none()}</div>`;
    return html`<div class="page">
      <div>${this.#now(procedure)}</div>
      <rm-walk-path .procedure=${procedure}></rm-walk-path>
    </div>`;
  }

  protected override updated(): void {
    const { procedure } = this.shared.state;
    if (procedure === null) return;
    const shown = `${procedure.current} ${procedure.ended}`;
    // Whoever comes to this view is at its beginning; from then on a new step takes the keyboard along.
    if (this.#revealed !== null && this.#revealed !== shown) void this.#reveal();
    this.#revealed = shown;
  }

  #now(procedure: ProcedureView): TemplateResult {
    if (procedure.ended === 'aborted') return this.#aborted(procedure);
    if (procedure.ended === 'signed') return this.#signed(procedure);
    const step = currentStep(procedure);
    if (step === undefined) return this.#before(procedure);
    const { state, live, mayAct, send } = this.shared;
    return html`<rm-walk-step
      .procedure=${procedure}
      .step=${step}
      .points=${state.points}
      .typing=${mayAct ? state.typing : []}
      .channels=${mayAct ? state.channels : []}
      ?live=${live}
      ?mayAct=${mayAct}
      @rm-walk=${(event: CustomEvent<WalkWish>) => send(event.detail)}
      @rm-typed=${(event: CustomEvent<Typed>) => this.#typed(event.detail)}
      @rm-probe=${(event: CustomEvent<ProbeMove>) => send({ kind: 'probe', ...event.detail })}
    ></rm-walk-step>`;
  }

  #none(): TemplateResult {
    return html`<section class="plain">
      <h2 id="title" tabindex="-1">No power-up in this session</h2>
      <p>
        A power-up takes a supply from cold checks over the lamp limiter and the dummy loads to the real load
        and the sign-off, one step at a time. Its steps are made from the design when a session starts:
      </p>
      <p><code>npx railminder powerup supply.design.yaml --bench table.bench.yaml</code></p>
      <p>
        Without a bench file you type what your own meter shows. <code>npx railminder demo</code> has a walk
        on a simulated supply, to try it with nothing at stake.
      </p>
      ${caution('Mains kills. Follow your local code; if you are not qualified for mains work, let someone who is do it.')}
    </section>`;
  }

  #before(procedure: ProcedureView): TemplateResult {
    const { steps, whyNotNext } = procedure;
    const { state, mayAct } = this.shared;
    return html`<section class="plain">
      <h2 id="title" tabindex="-1">The first power-up, step by step</h2>
      <p>
        ${steps.length} steps, made from the design. Each says what to do, what the hand must mind, what must
        not be connected yet, and what should be read in that state. A value is kept by itself once it stands
        still; the next step opens when everything is inside, or when you write down why you go on all the
        same.
      </p>
      ${state.demo === null ? nothing : html`<p>In this demo the simulated hands do what a step says; you answer its checks.</p>`}
      ${caution('Mains kills, and nothing here makes a supply safe. Follow your local code; if you are not qualified for mains work, let someone who is do it. Have someone near.')}
      ${whyNotNext === null ? nothing : html`<p>${keepUnits(whyNotNext)}</p>`}
      ${whyNotNext === null || state.demo === null ? nothing : html`<p>In the demo: choose “Every part as the design has it” on the Bench and let it cool, or start it with <code>--powerup</code>.</p>`}
      ${mayAct ? this.#beginButton(procedure) : nothing}
    </section>`;
  }

  #beginButton(procedure: ProcedureView): TemplateResult {
    const { live, send } = this.shared;
    const { next, whyNotNext } = procedure;
    return html`<p>
      <button
        class="button strong"
        data-key="n"
        ?disabled=${!live || next === null || whyNotNext !== null}
        @click=${() => next !== null && send({ kind: 'step', step: next, action: 'begin' })}
      >
        Begin: ${titleOf(procedure, next)} <kbd>n</kbd>
      </button>
    </p>`;
  }

  #aborted(procedure: ProcedureView): TemplateResult {
    const step = currentStep(procedure);
    return html`<section class="plain">
      <h2 id="title" tabindex="-1">Broken off</h2>
      <div class="off">
        <ol>
          ${procedure.afterAbort.map((words) => html`<li>${words}</li>`)}
        </ol>
      </div>
      <p>
        It was broken off at “${step?.title}”${step?.reason ? html`: “${step.reason}”` : ''}. The record says
        so.
      </p>
      <p>Once the fault is found and mended, begin again with a new session.</p>
    </section>`;
  }

  #signed({ signedBy, steps }: ProcedureView): TemplateResult {
    const overridden = steps.filter(({ status }) => status === 'overridden');
    return html`<section class="plain">
      <h2 id="title" tabindex="-1">Signed off by ${signedBy}</h2>
      <p>
        ${
          overridden.length === 0
            ? 'Every step was done, and everything that was measured was inside.'
            : 'Done but for what was overridden:'
        }
      </p>
      ${
        overridden.length === 0
          ? nothing
          : html`<ul>
              ${overridden.map(({ title, reason }) => html`<li>${title}: “${reason}”</li>`)}
            </ul>`
      }
      <p>The record lists every step with its values; the Job view makes the report of it.</p>
      ${caution('This says what was measured. Whether the supply may be used, your local code decides.')}
    </section>`;
  }

  #typed({ place: { instrument, channel, point, there }, text }: Typed): void {
    const { send } = this.shared;
    if (!there) send({ kind: 'probe', instrument, channel, point });
    send({ kind: 'typed', instrument, channel, text });
  }

  #key(event: KeyboardEvent): void {
    const key = singleKey(event);
    if (!this.shared.keysOn || key === '') return;
    const step = this.renderRoot.querySelector('rm-walk-step');
    const button = this.renderRoot.querySelector<HTMLElement>(`[data-key="${CSS.escape(key)}"]`);
    button?.click();
    // A key that opens a field isn't also the first letter in it.
    if (button || (step instanceof RmWalkStep && step.press(key))) event.preventDefault();
  }

  async #reveal(): Promise<void> {
    await this.updateComplete;
    const step = this.renderRoot.querySelector('rm-walk-step');
    if (step instanceof RmWalkStep) {
      await step.updateComplete;
      step.reveal();
    } else this.renderRoot.querySelector<HTMLElement>('#title')?.focus();
  }
}

customElements.define('rm-walk-view', RmWalkView);
