import { LitElement, css, html, nothing, type CSSResultGroup, type TemplateResult } from 'lit';
import { repeat } from 'lit/directives/repeat.js';
import type {
  DesignEdit,
  DesignPrediction,
  DesignProblem,
  FormGroup,
} from '../../daemon/serve/design-messages.js';
import { formatNumber, formatQuantity, pointStyle, sentenceCase } from '../format.js';
import { sharedStyles } from '../theme.js';
import { designField, fieldStyles, fillFields } from './field.js';
import { tell } from '../tell.js';

/** Words where a person acts on a part that can hurt. */
const CAUTIONS: Readonly<Record<string, string>> = {
  transformer:
    'The primary side is mains. Mains kills: leave it to a licensed person where your local code asks for one.',
  reservoir: 'Stays charged after switch-off. A bleed resistor empties it; measure before you touch.',
};
/** What tells most about a part while it is being changed. */
const TOLD = ['volts', 'ripple', 'case', 'amps'];

/** The design as a form, a group for every part (`rm-edit` with changes, `rm-remove-rail` with a rail's name). */
export class RmDesignForm extends LitElement {
  static override properties = {
    groups: { attribute: false },
    problems: { attribute: false },
    prediction: { attribute: false },
    current: { type: Boolean },
  };
  declare groups: readonly FormGroup[];
  declare problems: readonly DesignProblem[];
  declare prediction: DesignPrediction | null;
  /** Whether the prediction is of what stands in the form. */
  declare current: boolean;

  static override styles: CSSResultGroup = [
    sharedStyles,
    fieldStyles,
    css`
      section {
        padding: 0.9rem 1.1rem 1.1rem;
        border: 1px solid var(--edge);
        border-radius: 0.6rem;
        background: var(--sheet);
        margin-bottom: 1rem;
      }
      .head {
        display: grid;
        grid-template-columns: 1fr auto;
        align-items: center;
        gap: 0.1rem 1rem;
        margin-bottom: 0.6rem;
      }
      .told {
        grid-column: 1 / -1;
        grid-row: 2;
        font-size: 0.9375rem;
      }
      .told.old {
        color: var(--quiet);
        text-decoration: line-through;
      }
      details {
        margin-top: 0.8rem;
      }
      summary {
        cursor: pointer;
        width: fit-content;
        min-height: 1.6rem;
        color: var(--accent);
        font-weight: 600;
        font-size: 0.9375rem;
      }
      details .fields {
        margin-top: 0.6rem;
      }
      .caution {
        margin-top: 0.8rem;
        padding-inline-start: 0.7rem;
        border-inline-start: 3px solid var(--doubtful);
        font-size: 0.875rem;
      }
      .group-problem {
        margin-bottom: 0.6rem;
      }
    `,
  ];

  protected override render(): TemplateResult {
    return html`${repeat(
      this.groups,
      ({ path }) => path.join('.'),
      (group) => this.#group(group),
    )}`;
  }

  protected override updated(): void {
    if (this.shadowRoot) fillFields(this.shadowRoot);
  }

  #group({ path, title, fields, more }: FormGroup): TemplateResult {
    const id = path.join('-');
    const [part = '', rail] = path;
    const caution = CAUTIONS[part];
    const write = (edit: DesignEdit): void => this.#edit(edit);
    return html`<section aria-labelledby="${id}-title">
      <div class="head">
        <h3 id="${id}-title">${sentenceCase(title)}</h3>
        ${this.#told(rail ?? part)}
        ${
          rail === undefined
            ? nothing
            : html`<button
                class="button"
                aria-label=${`Remove the ${rail} rail`}
                @click=${() => this.#remove(rail)}
              >
                Remove
              </button>`
        }
      </div>
      ${this.#besides(path, [...fields, ...more])}
      <div class="fields">
        ${repeat(
          fields,
          (field) => field.path.join('.'),
          (field) => designField(field, this.problems, write),
        )}
      </div>
      ${
        more.length === 0
          ? nothing
          : html`<details ?open=${more.some((field) => this.#isWrong(field.path))}>
              <summary>More about ${part === 'design' ? 'it' : title.toLowerCase()}</summary>
              <div class="fields">
                ${repeat(
                  more,
                  (field) => field.path.join('.'),
                  (field) => designField(field, this.problems, write),
                )}
              </div>
            </details>`
      }
      ${caution === undefined ? nothing : html`<p class="caution">${caution}</p>`}
    </section>`;
  }

  #isWrong(path: readonly string[]): boolean {
    return this.problems.some(({ key }) => key === path.join('.'));
  }

  /** What is wrong with the group that no field of it has. */
  #besides(path: readonly string[], fields: FormGroup['fields']): readonly TemplateResult[] {
    const shown = new Set(fields.map((field) => field.path.join('.')));
    const at = path.join('.');
    return this.problems
      .filter(({ key }) => (key === at || key.startsWith(`${at}.`)) && !shown.has(key))
      .map(({ key, words }) => html`<p class="problem group-problem">${key}: ${words}</p>`);
  }

  /** What a part is predicted to do, in its own line: it moves while a person types. */
  #told(part: string): TemplateResult | typeof nothing {
    const points = (this.prediction?.points ?? []).filter(({ id }) => {
      const [of, quantity = ''] = id.split('.');
      return of === part && TOLD.includes(quantity);
    });
    if (points.length === 0) return nothing;
    return html`<p class="told number ${this.current ? '' : 'old'}">
      ${points.map((point, i) => {
        const style = pointStyle(point);
        const quantity = point.id.split('.')[1];
        const name = quantity === 'volts' || quantity === 'amps' ? '' : `${quantity} `;
        return html`${i === 0 ? '' : ' · '}${name}<strong>${formatQuantity(point.typical, style)}</strong>
          <span class="quiet">(${formatNumber(point.low, style)}–${formatNumber(point.high, style)})</span>`;
      })}
    </p>`;
  }

  #edit(edit: DesignEdit): void {
    tell(this, 'rm-edit', [edit]);
  }

  #remove(detail: string): void {
    tell(this, 'rm-remove-rail', detail);
  }
}

customElements.define('rm-design-form', RmDesignForm);
