import { LitElement, css, html, nothing, type CSSResultGroup, type TemplateResult } from 'lit';
import { repeat } from 'lit/directives/repeat.js';
import type { JobListView, ListedView, OutcomeView } from '../../daemon/serve/job-views.js';
import { factWords, outcomeWords, whenWords } from '../job/job-words.js';
import { sharedStyles } from '../theme.js';
import { mark, markStyles } from './mark.js';
import { tell } from '../tell.js';

/**
 * The recordings of the job. `rm-job-open` (file) opens one; `rm-job-choose` (file) chooses it to be compared or no
 * longer; `rm-job-compare` compares the two that are chosen; `rm-job-again` looks into the folder once more.
 */
export class RmJobList extends LitElement {
  static override properties = {
    list: { attribute: false },
    outcomes: { attribute: false },
    chosen: { attribute: false },
  };
  declare list: JobListView;
  declare outcomes: ReadonlyMap<string, OutcomeView | string>;
  declare chosen: readonly string[];

  static override styles: CSSResultGroup = [
    sharedStyles,
    markStyles,
    css`
      .head {
        display: flex;
        flex-wrap: wrap;
        align-items: center;
        justify-content: space-between;
        gap: 0.5rem 1.5rem;
      }
      .actions {
        display: flex;
        flex-wrap: wrap;
        gap: 0.5rem;
      }
      ol {
        display: grid;
        gap: 0.7rem;
        margin-top: 1rem;
      }
      li {
        display: grid;
        grid-template-columns: minmax(0, 1fr) auto;
        gap: 0.2rem 1.2rem;
        align-items: center;
        padding: 0.75rem 1rem;
        border: 1px solid var(--edge);
        border-radius: 0.6rem;
        background: var(--sheet);
      }
      li.chosen {
        box-shadow: inset 0.3rem 0 0 var(--accent);
      }
      .folder,
      .what {
        min-width: 0;
        overflow-wrap: anywhere;
      }
      .open {
        padding: 0.1rem 0;
        min-height: 1.75rem;
        border: 0;
        background: none;
        color: var(--accent);
        font-weight: 650;
        font-size: 1.0625rem;
        text-align: start;
        text-decoration: underline;
        text-underline-offset: 0.15em;
        cursor: pointer;
      }
      .outcome {
        display: flex;
        align-items: baseline;
        gap: 0.5rem;
        margin-top: 0.15rem;
      }
      .outcome .mark {
        transform: translateY(0.12em);
      }
      .facts {
        display: flex;
        flex-wrap: wrap;
        gap: 0 1rem;
      }
      .facts .bad {
        color: var(--ink);
        font-weight: 700;
      }
      .pick {
        display: inline-flex;
        align-items: center;
        gap: 0.5rem;
        min-height: 2.5rem;
        padding-inline: 0.4rem;
        cursor: pointer;
      }
      .pick input {
        width: 1.5rem;
        height: 1.5rem;
        margin: 0;
        accent-color: var(--accent);
      }
      .empty {
        max-width: 44rem;
        margin-top: 1rem;
      }
      .empty p + p {
        margin-top: 0.5rem;
      }
      @media (max-width: 34rem) {
        li {
          grid-template-columns: minmax(0, 1fr);
        }
      }
    `,
  ];

  protected override render(): TemplateResult {
    const { recordings, folder } = this.list;
    return html`<div class="head">
        <div>
          <h2 tabindex="-1">Recordings of this job</h2>
          <p class="small quiet folder">${folder}</p>
        </div>
        <div class="actions">
          ${recordings.length > 1 ? this.#compareButton() : nothing}
          <button class="button" @click=${() => tell(this, 'rm-job-again')}>Look again</button>
        </div>
      </div>
      ${recordings.length === 0 ? empty() : this.#rows(recordings)}
      ${
        this.list.leftOut > 0
          ? html`<p class="small quiet">${this.list.leftOut} older ones are in the folder besides.</p>`
          : nothing
      }`;
  }

  /** Puts the focus on a recording's button, or on the heading when it is gone. */
  focusOn(file: string): void {
    const place = this.renderRoot.querySelector<HTMLElement>(`[data-file="${CSS.escape(file)}"]`);
    (place ?? this.renderRoot.querySelector<HTMLElement>('h2'))?.focus();
  }

  #compareButton(): TemplateResult {
    const missing = 2 - this.chosen.length;
    const words =
      missing === 0 ? 'Compare the two' : missing === 1 ? 'Compare: choose one more' : 'Compare: choose two';
    return html`<button
      class="button ${missing === 0 ? 'strong' : ''}"
      ?disabled=${missing !== 0}
      @click=${() => tell(this, 'rm-job-compare')}
    >
      ${words}
    </button>`;
  }

  #rows(recordings: readonly ListedView[]): TemplateResult {
    return html`<ol>
      ${repeat(
        recordings,
        ({ file }) => file,
        (one) => this.#row(one),
      )}
    </ol>`;
  }

  #row(one: ListedView): TemplateResult {
    if (one.begun === null) {
      return html`<li>
        <div class="what">
          <h3 class="file">${one.file}</h3>
          <p class="outcome">${mark('unreadable')} <span>Can’t be opened. ${one.why}</span></p>
        </div>
      </li>`;
    }
    const chosen = this.chosen.includes(one.file);
    const { begun, file, running } = one;
    return html`<li class=${chosen ? 'chosen' : ''}>
      <div class="what">
        <h3>
          <button class="open" data-file=${file} @click=${() => tell(this, 'rm-job-open', file)}>
            ${whenWords(begun)}
          </button>
        </h3>
        <p class="small">${begun.design}, ${begun.load} load${running ? ', being recorded now' : ''}</p>
        ${this.#outcome(one)}
      </div>
      <label class="pick"
        ><input
          type="checkbox"
          aria-label=${`Choose ${whenWords(begun)} to compare`}
          .checked=${chosen}
          ?disabled=${!chosen && this.chosen.length === 2}
          @change=${() => tell(this, 'rm-job-choose', file)}
        /><span aria-hidden="true">compare</span></label
      >
    </li>`;
  }

  #outcome(one: ListedView): TemplateResult {
    const found = this.outcomes.get(one.file);
    if (typeof found === 'string') {
      return html`<p class="outcome">${mark('unreadable')} <span>${found}</span></p>`;
    }
    const { standing, sentence } =
      found === undefined
        ? { standing: 'waiting' as const, sentence: 'Reading what came out …' }
        : outcomeWords({ ...found, running: one.running });
    const facts = factWords(one, found);
    return html`<p class="outcome number">${mark(standing)} <span>${sentence}</span></p>
      <p class="facts small quiet number">
        ${facts.map(
          (fact, i) => html`<span class=${i === 2 && found?.intact === false ? 'bad' : ''}>${fact}</span>`,
        )}
        <span class="file">${one.file}</span>
      </p>`;
  }
}

function empty(): TemplateResult {
  return html`<div class="empty">
    <p><strong>No recordings yet.</strong></p>
    <p>
      Every session that Railminder watches leaves one in this folder, from its first reading on. Start one
      with <kbd>railminder watch</kbd> and the design file, or copy recordings of earlier sessions (<span
        class="number"
        >*.ndjson</span
      >, <span class="number">*.ndjson.gz</span>) into the folder, then press Look again.
    </p>
  </div>`;
}

customElements.define('rm-job-list', RmJobList);
