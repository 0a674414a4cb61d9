import { LitElement, css, html, nothing, type CSSResultGroup, type TemplateResult } from 'lit';
import type { BeginRequest, RailAnswers } from '../../daemon/serve/design-messages.js';
import { sharedStyles } from '../theme.js';
import { fieldStyles } from './field.js';
import { tell } from '../tell.js';

const MOST_RAILS = 6;
/** A usual 15 V transformer for a 12 V and a 5 V rail stands as the example. */
const USUAL = { volts: '15', va: '30', capacity_uF: '4700' } as const;
const NEW_RAIL: RailAnswers = { name: '', volts: '', full: '' };

type Complaints = Readonly<Record<string, string>>;

/** The few questions from which a whole design is made (`rm-begin` with the answers, `rm-begin-not`). */
export class RmDesignBegin extends LitElement {
  static override properties = {
    mains: { attribute: false },
    complaints: { attribute: false },
    rails: { state: true },
  };
  declare mains: '230' | '120';
  declare complaints: Complaints;
  declare rails: readonly RailAnswers[];

  static override styles: CSSResultGroup = [
    sharedStyles,
    fieldStyles,
    css`
      form {
        padding: 1rem 1.2rem 1.2rem;
        border: 1px solid var(--edge);
        border-radius: 0.6rem;
        background: var(--sheet);
        max-width: 60rem;
      }
      fieldset {
        margin: 1.1rem 0 0;
        padding: 0;
        border: 0;
        min-width: 0;
      }
      legend {
        padding: 0;
        margin-bottom: 0.4rem;
        font-weight: 650;
      }
      .mains {
        display: flex;
        flex-wrap: wrap;
        gap: 0.2rem 1.2rem;
      }
      .mains label {
        display: flex;
        align-items: center;
        gap: 0.4rem;
        min-height: 2rem;
      }
      .row {
        display: flex;
        flex-wrap: wrap;
        gap: 0.4rem;
        margin-top: 1.2rem;
      }
      .caution {
        margin-top: 1rem;
        padding-inline-start: 0.7rem;
        border-inline-start: 3px solid var(--doubtful);
        font-size: 0.875rem;
      }
    `,
  ];

  constructor() {
    super();
    this.rails = [NEW_RAIL];
    this.complaints = {};
  }

  protected override render(): TemplateResult {
    return html`<form @submit=${(event: SubmitEvent) => this.#submit(event)} novalidate>
      <h2>A new design</h2>
      <p class="quiet">
        A dozen numbers make a whole design; everything can be changed afterwards. What is left empty is taken
        as shown.
      </p>
      <fieldset>
        <legend>The supply</legend>
        <div class="fields">${this.#field('name', 'What is it called?', 'my supply', '')}</div>
      </fieldset>
      <fieldset>
        <legend>Mains</legend>
        <div class="mains">
          ${(['230', '120'] as const).map(
            (volts) =>
              html`<label>
                <input type="radio" name="mains" value=${volts} ?checked=${this.mains === volts} />
                ${volts} V, ${volts === '230' ? 50 : 60} Hz
              </label>`,
          )}
        </div>
      </fieldset>
      <fieldset>
        <legend>Transformer and reservoir, as printed on them</legend>
        <div class="fields">
          ${this.#field('volts', 'Secondary volts', USUAL.volts, 'V')}
          ${this.#field('va', 'Rating', USUAL.va, 'VA')}
          ${this.#field('capacity_uF', 'Reservoir', USUAL.capacity_uF, 'µF')}
        </div>
      </fieldset>
      ${this.rails.map((_, i) => this.#rail(i))}
      ${this.complaints['rails'] ? html`<p class="problem">${this.complaints['rails']}</p>` : nothing}
      <div class="row">
        <button type="submit" class="button strong">Make the design</button>
        ${
          this.rails.length < MOST_RAILS
            ? html`<button type="button" class="button" @click=${() => void this.#more()}>
                One more rail
              </button>`
            : nothing
        }
        <button type="button" class="button" @click=${() => tell(this, 'rm-begin-not')}>Never mind</button>
      </div>
      <p class="caution">
        Mains kills. Only people who are allowed to work on mains wiring open the primary side; the rules of
        your country go before anything written here.
      </p>
    </form>`;
  }

  #rail(i: number): TemplateResult {
    return html`<fieldset>
      <legend>Rail ${i + 1}</legend>
      <div class="fields">
        ${this.#field(`rails.${i}.name`, `Name of rail ${i + 1}`, `rail-${i + 1}`, '')}
        ${this.#field(`rails.${i}.volts`, `Volts of rail ${i + 1}`, '5', 'V')}
        ${this.#field(`rails.${i}.full`, `Amps at full load of rail ${i + 1}`, '0.2', 'A')}
      </div>
    </fieldset>`;
  }

  #field(name: string, label: string, usual: string, unit: string): TemplateResult {
    const complaint = this.complaints[name];
    return html`<div class="field ${complaint ? 'wrong' : ''}">
      <label for=${name}>${label}</label>
      <span class="entry">
        <input
          id=${name}
          name=${name}
          type="text"
          autocomplete="off"
          maxlength="80"
          placeholder=${usual}
          aria-describedby=${complaint ? `${name}-wrong` : nothing}
        />
        ${unit === '' ? nothing : html`<span class="unit">${unit}</span>`}
      </span>
      ${complaint ? html`<p class="problem" id="${name}-wrong">${complaint}</p>` : nothing}
    </div>`;
  }

  async #more(): Promise<void> {
    this.rails = [...this.rails, NEW_RAIL];
    await this.updateComplete;
    this.renderRoot.querySelector<HTMLElement>(`[name="rails.${this.rails.length - 1}.name"]`)?.focus();
  }

  #submit(event: SubmitEvent): void {
    event.preventDefault();
    const data = new FormData(event.target as HTMLFormElement);
    const typed = (name: string): string => {
      const value = data.get(name);
      return typeof value === 'string' ? value.trim() : '';
    };
    const detail: BeginRequest = {
      name: typed('name'),
      mains: typed('mains'),
      volts: typed('volts'),
      va: typed('va'),
      capacity_uF: typed('capacity_uF'),
      rails: this.rails.map((_, i) => ({
        name: typed(`rails.${i}.name`),
        volts: typed(`rails.${i}.volts`),
        full: typed(`rails.${i}.full`),
      })),
    };
    tell(this, 'rm-begin', detail);
  }
}

customElements.define('rm-design-begin', RmDesignBegin);
