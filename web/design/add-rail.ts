import { LitElement, html, nothing, type CSSResultGroup, type TemplateResult } from 'lit';
import type { RailAnswers } from '../../daemon/serve/design-messages.js';
import { sharedStyles } from '../theme.js';
import { fieldStyles } from './field.js';
import { tell } from '../tell.js';

const FIELDS = [
  { name: 'name', label: 'Name of the new rail', unit: '' },
  { name: 'volts', label: 'Volts of the new rail', unit: 'V' },
  { name: 'full', label: 'Amps at full load of the new rail', unit: 'A' },
] as const;

/** Asks for one more rail (`rm-add-rail` with the answers). Regulator and heatsink are suggested to it. */
export class RmDesignAddRail extends LitElement {
  static override properties = { complaints: { attribute: false } };
  declare complaints: Readonly<Record<string, string>>;

  static override styles: CSSResultGroup = [sharedStyles, fieldStyles];

  constructor() {
    super();
    this.complaints = {};
  }

  /** Empties the fields. */
  clear(): void {
    this.renderRoot.querySelector('form')?.reset();
  }

  protected override render(): TemplateResult {
    return html`<form @submit=${(event: SubmitEvent) => this.#submit(event)} novalidate>
      <div class="fields">
        ${FIELDS.map(({ name, label, unit }) => {
          const complaint = this.complaints[name];
          return html`<div class="field ${complaint ? 'wrong' : ''}">
            <label for=${name}>${label}</label>
            <span class="entry">
              <input
                id=${name}
                name=${name}
                type="text"
                autocomplete="off"
                maxlength="40"
                aria-describedby=${complaint ? `${name}-wrong` : nothing}
              />
              ${unit === '' ? nothing : html`<span class="unit">${unit}</span>`}
            </span>
            ${complaint ? html`<p class="problem" id="${name}-wrong">${complaint}</p>` : nothing}
          </div>`;
        })}
        <button type="submit" class="button">Add the rail</button>
      </div>
    </form>`;
  }

  #submit(event: SubmitEvent): void {
    event.preventDefault();
    const data = new FormData(event.target as HTMLFormElement);
    const typed = (name: string): string => {
      const value = data.get(name);
      return typeof value === 'string' ? value.trim() : '';
    };
    const detail: RailAnswers = { name: typed('name'), volts: typed('volts'), full: typed('full') };
    tell(this, 'rm-add-rail', detail);
  }
}

customElements.define('rm-design-add-rail', RmDesignAddRail);
