import { LitElement, css, html, type CSSResultGroup, type TemplateResult } from 'lit';
import type { ProcedureView, StepView } from '../../daemon/serve/messages.js';
import { sharedStyles } from '../theme.js';
import { STATUS } from '../walk/step-words.js';
import { mark, markStyles } from './mark.js';

/** All steps of the power-up in order, each with where it stands and why it was overridden. */
export class RmWalkPath extends LitElement {
  static override properties = { procedure: { attribute: false } };
  declare procedure: ProcedureView;

  static override styles: CSSResultGroup = [
    sharedStyles,
    markStyles,
    css`
      ol {
        margin-top: 0.7rem;
      }
      li {
        display: grid;
        grid-template-columns: auto 1fr;
        gap: 0 0.7rem;
        padding: 0.3rem 0.6rem 0.6rem 0.5rem;
      }
      li > .mark {
        margin-top: 0.25rem;
      }
      li:not(:last-child) {
        background: linear-gradient(var(--edge), var(--edge)) 0.93rem 1.6rem / 2px calc(100% - 1.4rem)
          no-repeat;
      }
      [aria-current='step'] .title {
        font-weight: 700;
      }
      .reason {
        overflow-wrap: anywhere;
      }
    `,
  ];

  protected override render(): TemplateResult {
    return html`<h2 id="path">The way</h2>
      <ol aria-labelledby="path">
        ${this.procedure.steps.map((step) => this.#step(step))}
      </ol>`;
  }

  #step({ id, title, status, reason }: StepView): TemplateResult {
    const [standing, words] = STATUS[status];
    return html`<li aria-current=${id === this.procedure.current ? 'step' : 'false'}>
      ${mark(standing)}
      <div>
        <span class="title">${title}</span> <span class="small quiet">${words}</span>
        ${reason ? html`<p class="small reason">“${reason}”</p>` : ''}
      </div>
    </li>`;
  }
}

customElements.define('rm-walk-path', RmWalkPath);
