import { LitElement, css, html, nothing, type CSSResultGroup, type TemplateResult } from 'lit';
import type { SuspectView, SuspicionView } from '../../daemon/serve/messages.js';
import { keepUnits } from '../format.js';
import { percentWords } from '../percent-words.js';
import { sharedStyles } from '../theme.js';

/** What the settled readings speak for: the leading fault with its evidence, the others in one line each. */
export class RmSuspects extends LitElement {
  static override properties = {
    suspicion: { attribute: false },
    live: { type: Boolean },
  };
  declare suspicion: SuspicionView | null;
  declare live: boolean;

  static override styles: CSSResultGroup = [
    sharedStyles,
    css`
      .lead {
        margin-top: 0.6rem;
        font-size: 1.0625rem;
      }
      .lead b {
        font-weight: 650;
      }
      ul.evidence {
        list-style: '–  ';
        padding-left: 1.1rem;
        margin-top: 0.3rem;
      }
      .others {
        display: flex;
        flex-wrap: wrap;
        gap: 0.2rem 1.6rem;
        margin-top: 0.6rem;
      }
      p + p {
        margin-top: 0.4rem;
      }
      details {
        margin-top: 0.5rem;
      }
      summary {
        cursor: pointer;
        font-weight: 600;
        width: fit-content;
        min-height: 1.75rem;
      }
    `,
  ];

  protected override render(): TemplateResult | typeof nothing {
    if (this.suspicion === null) return nothing;
    const { suspects, other, next, odd, parameters, from } = this.suspicion;
    const [first, ...rest] = suspects;
    return html`<section aria-labelledby="title">
      <h2 id="title">What the readings speak for</h2>
      <p class="quiet small">
        ${this.live ? '' : 'As last heard. '}From
        ${from === 1 ? 'one settled reading' : `${from} settled readings`}, weighed against every known fault.
      </p>
      ${first === undefined ? nothing : lead(first)}
      <ul class="others number">
        ${rest.map(({ title, probability }) => html`<li>${percentWords(probability)} ${title}</li>`)}
        <li class="quiet">${percentWords(other)} something that isn’t known here</li>
      </ul>
      ${odd.map((words) => html`<p>${words}</p>`)}
      ${next === null ? nothing : html`<p class="number">${keepUnits(next.words)}</p>`}
      ${
        parameters.length === 0
          ? nothing
          : html`<details>
              <summary>What they say of parts that nobody measured</summary>
              ${parameters.map((words) => html`<p class="number">${keepUnits(words)}</p>`)}
            </details>`
      }
    </section>`;
  }
}

function lead({ title, probability, evidence, action }: SuspectView): TemplateResult {
  return html`<p class="lead number"><b>${percentWords(probability)} ${title}</b></p>
    <ul class="evidence number">
      ${evidence.map((words) => html`<li>${keepUnits(words)}</li>`)}
    </ul>
    <p>${action}</p>`;
}

customElements.define('rm-suspects', RmSuspects);
