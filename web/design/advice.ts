import { LitElement, css, html, nothing, type CSSResultGroup, type TemplateResult } from 'lit';
import type { AdviceView, CureView, DesignPrediction } from '../../daemon/serve/design-messages.js';
import { mark, markStyles } from '../elements/mark.js';
import { keepUnits, sentenceCase } from '../format.js';
import type { Standing } from '../point-standing.js';
import { sharedStyles } from '../theme.js';
import { tell } from '../tell.js';

const SEVERITIES: readonly {
  readonly is: AdviceView['severity'];
  readonly words: string;
  readonly shape: Standing;
}[] = [
  { is: 'destroys', words: 'Destroys something', shape: 'outside' },
  { is: 'misbehaves', words: 'Won’t work as it should', shape: 'doubtful' },
  { is: 'note', words: 'Worth knowing', shape: 'waiting' },
  { is: 'ready', words: 'Have ready', shape: 'inside' },
];

/** What to change before power, gravest first, each cure with its button (`rm-cure` with the cure). */
export class RmDesignAdvice extends LitElement {
  static override properties = { prediction: { attribute: false }, current: { type: Boolean } };
  declare prediction: DesignPrediction;
  declare current: boolean;

  static override styles: CSSResultGroup = [
    sharedStyles,
    markStyles,
    css`
      h3 {
        display: flex;
        align-items: center;
        gap: 0.5rem;
        margin-top: 1rem;
      }
      li {
        margin-top: 0.6rem;
        padding: 0.7rem 0.9rem;
        border: 1px solid var(--edge);
        border-radius: 0.6rem;
        background: var(--sheet);
        overflow-wrap: anywhere;
      }
      .destroys li {
        border: 2px solid var(--outside);
      }
      .about {
        font-weight: 650;
      }
      .cure {
        margin-top: 0.6rem;
      }
      .cure .button {
        text-align: start;
      }
      .change {
        margin-top: 0.2rem;
      }
      del {
        color: var(--quiet);
      }
      ins {
        font-weight: 650;
        text-decoration: none;
      }
      summary {
        cursor: pointer;
        width: fit-content;
        min-height: 1.6rem;
        margin-top: 0.3rem;
        color: var(--accent);
        font-size: 0.875rem;
      }
      .old {
        color: var(--quiet);
        font-style: italic;
      }
    `,
  ];

  protected override render(): TemplateResult {
    const { advice } = this.prediction;
    return html`<div class=${this.current ? '' : 'old'}>
      ${
        advice.some(({ severity }) => severity === 'destroys' || severity === 'misbehaves')
          ? nothing
          : html`<p>Nothing here is destroyed and nothing misbehaves, as far as can be worked out.</p>`
      }
      ${SEVERITIES.map(({ is, words, shape }) => {
        const its = advice.filter(({ severity }) => severity === is);
        if (its.length === 0) return nothing;
        return html`<div class=${is}>
          <h3>${mark(shape)} ${words}</h3>
          <ul>
            ${its.map((one) => this.#advice(one))}
          </ul>
        </div>`;
      })}
    </div>`;
  }

  #advice({ about, sentence, reason, cure, cures }: AdviceView): TemplateResult {
    return html`<li>
      <p class="about">${sentenceCase(about)}</p>
      <p class="number">${keepUnits(sentenceCase(sentence))}</p>
      ${
        cures.length === 0
          ? html`<p class="number">${keepUnits(cure)}</p>`
          : cures.map((one) => this.#cure(one))
      }
      <details>
        <summary>Why</summary>
        <p class="small number">${keepUnits(reason)}</p>
      </details>
    </li>`;
  }

  #cure(cure: CureView): TemplateResult {
    return html`<div class="cure">
      <button class="button" ?disabled=${!this.current} @click=${() => this.#apply(cure)}>
        Apply: ${keepUnits(cure.words)}
      </button>
      ${cure.changes.map(
        ({ key, before, after }) =>
          html`<p class="change small number">
            ${key}: <del>${before ?? 'not written'}</del> <span aria-hidden="true">→</span
            ><span class="for-ears">becomes</span> <ins>${after}</ins>
          </p>`,
      )}
      ${cure.worsens.map((words) => html`<p class="small">But then: ${keepUnits(words)}</p>`)}
    </div>`;
  }

  #apply(detail: CureView): void {
    tell(this, 'rm-cure', detail);
  }
}

customElements.define('rm-design-advice', RmDesignAdvice);
