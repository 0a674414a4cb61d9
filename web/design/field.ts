import { css, html, nothing, type CSSResult, type TemplateResult } from 'lit';
import type { DesignEdit, DesignProblem, EditValue, FormField } from '../../daemon/serve/design-messages.js';

/** One field of the form: label, what is written, its unit, what is wrong with it. */
export function designField(
  field: FormField,
  problems: readonly DesignProblem[],
  onEdit: (edit: DesignEdit) => void,
): TemplateResult {
  const key = field.path.join('.');
  const wrong = problems.filter((problem) => problem.key === key);
  const described = [field.help === '' ? '' : `${key}-help`, wrong.length > 0 ? `${key}-wrong` : '']
    .filter(Boolean)
    .join(' ');
  return html`<div class="field ${wrong.length > 0 ? 'wrong' : ''}">
    <label for=${key}>${field.label}</label>
    <span class="entry">
      ${field.kind === 'choice' ? choice(field, key, described, onEdit) : entry(field, key, described, onEdit)}
      ${field.unit === '' ? nothing : html`<span class="unit">${field.unit}</span>`}
    </span>
    ${wrong.map(({ words }) => html`<p class="problem" id="${key}-wrong">${sentence(words)}</p>`)}
    ${field.help === '' ? nothing : html`<p class="help" id="${key}-help">${field.help}</p>`}
  </div>`;
}

function entry(
  field: FormField,
  key: string,
  described: string,
  onEdit: (edit: DesignEdit) => void,
): TemplateResult {
  const isMixed = field.kind === 'mixed';
  return html`<input
      id=${key}
      type="text"
      autocomplete="off"
      spellcheck="false"
      inputmode=${field.kind === 'number' ? 'decimal' : 'text'}
      list=${isMixed ? `${key}-list` : nothing}
      data-written=${shownValue(field.value)}
      placeholder=${field.assumed === null ? '' : `assumed ${field.assumed}`}
      aria-describedby=${described === '' ? nothing : described}
      class=${field.kind === 'text' ? 'long' : ''}
      @input=${(event: Event) =>
        onEdit({ path: field.path, value: typedValue(field, (event.target as HTMLInputElement).value) })}
    />${
      isMixed
        ? html`<datalist id="${key}-list">
            ${field.choices.map(({ label }) => html`<option value=${label}></option>`)}
          </datalist>`
        : nothing
    }`;
}

/** An option is known by its place, since what it writes may be a group of keys. */
function choice(
  field: FormField,
  key: string,
  described: string,
  onEdit: (edit: DesignEdit) => void,
): TemplateResult {
  const place = field.choices.findIndex(({ value, label }) => value === field.value || label === field.value);
  const isOdd = field.value !== null && place < 0;
  const none = field.assumed === null ? 'none' : `assumed ${field.assumed}`;
  const choose = (event: Event): void => {
    const { value } = event.target as HTMLSelectElement;
    if (value !== 'as-is')
      onEdit({ path: field.path, value: field.choices[Number(value || -1)]?.value ?? null });
  };
  return html`<select id=${key} aria-describedby=${described === '' ? nothing : described} @change=${choose}>
    ${isOdd ? html`<option value="as-is" selected>${field.value}</option>` : nothing}
    ${
      field.optional || field.value === null
        ? html`<option value="" ?selected=${field.value === null}>
            ${field.optional ? none : 'choose'}
          </option>`
        : nothing
    }
    ${field.choices.map(
      ({ label }, i) => html`<option value=${i} ?selected=${i === place}>${label}</option>`,
    )}
  </select>`;
}

/** What is written for what was typed: a number where one may stand, nothing for nothing. */
function typedValue({ kind }: FormField, typed: string): EditValue | null {
  const text = typed.trim();
  if (text === '') return null;
  const number = Number(text.replace(',', '.').replace('\u2212', '-'));
  return kind !== 'text' && Number.isFinite(number) ? number : text;
}

export function shownValue(value: string | number | null): string {
  return value === null ? '' : String(value);
}

function sentence(words: string): string {
  return words.charAt(0).toUpperCase() + words.slice(1);
}

/** Puts what is written into each field but the one in which a person is typing. */
export function fillFields(root: ShadowRoot): void {
  for (const input of root.querySelectorAll<HTMLInputElement>('input[data-written]')) {
    const written = input.dataset['written'] ?? '';
    if (input !== root.activeElement && input.value !== written) input.value = written;
  }
  // A choice that was answered otherwise goes back to what is written.
  for (const select of root.querySelectorAll('select')) {
    const written = select.querySelector<HTMLOptionElement>('option[selected]');
    if (select !== root.activeElement && written) written.selected = true;
  }
}

export const fieldStyles: CSSResult = css`
  .fields {
    display: grid;
    grid-template-columns: repeat(auto-fill, minmax(min(100%, 11.5rem), 1fr));
    gap: 0.7rem 1.2rem;
    align-items: start;
  }
  input[type='radio'] {
    accent-color: var(--accent);
  }
  .field label {
    display: block;
    font-size: 0.9375rem;
    margin-bottom: 0.1rem;
  }
  .entry {
    display: flex;
    align-items: center;
    gap: 0.5rem;
  }
  .entry input,
  .entry select {
    flex: 1 1 6rem;
    min-width: 0;
    max-width: 13rem;
  }
  .entry input.long {
    max-width: none;
  }
  .unit {
    color: var(--quiet);
    min-width: 1.6rem;
  }
  ::placeholder {
    color: var(--quiet);
    opacity: 1;
    font-style: italic;
  }
  .wrong input,
  .wrong select {
    border: 2px solid var(--outside);
  }
  .problem {
    margin-top: 0.2rem;
    padding-inline-start: 0.6rem;
    border-inline-start: 3px solid var(--outside);
    font-size: 0.9375rem;
    font-weight: 600;
  }
  .help {
    display: none;
    font-size: 0.875rem;
    color: var(--quiet);
  }
  .field:focus-within .help {
    display: block;
  }
`;
