import { LitElement, css, html, nothing, type CSSResultGroup, type TemplateResult } from 'lit';
import type {
  BeginRequest,
  CureView,
  DesignEdit,
  LoadState,
  RailAnswers,
} from '../../daemon/serve/design-messages.js';
import { RmDesignAddRail } from '../design/add-rail.js';
import '../design/advice.js';
import '../design/begin.js';
import { deskLink, DeskTrouble } from '../design/desk-link.js';
import { DesignDraft } from '../design/draft.js';
import '../design/form.js';
import '../design/points.js';
import '../design/save.js';
import { sharedStyles } from '../theme.js';
import type { Shared, ViewElement } from './view.js';

type Complaints = Readonly<Record<string, string>>;
const LOADS: readonly LoadState[] = ['idle', 'typical', 'full'];

/** The design as a form beside what it is predicted to do. Nothing is written before a person saves. */
export class RmDesignView extends LitElement implements ViewElement {
  static override properties = {
    shared: { attribute: false },
    beginning: { state: true },
    complaints: { state: true },
    railComplaints: { state: true },
    said: { state: true },
    saved: { state: true },
  };
  declare shared: Shared;
  declare beginning: boolean;
  declare complaints: Complaints;
  declare railComplaints: Complaints;
  /** What the last press did. */
  declare said: string;
  declare saved: string;

  static override styles: CSSResultGroup = [
    sharedStyles,
    css`
      :host {
        padding: 1.2rem var(--side) 3rem;
        container-type: inline-size;
      }
      .bar {
        display: flex;
        flex-wrap: wrap;
        align-items: center;
        gap: 0.5rem 0.8rem;
        margin-block: 0.8rem 1.2rem;
      }
      .bar label {
        display: flex;
        align-items: center;
        gap: 0.5rem;
      }
      .said {
        font-weight: 650;
      }
      .trouble {
        margin-block: 0.8rem;
        padding: 0.5rem 0.9rem;
        border: 2px solid var(--outside);
        border-radius: 0.5rem;
        font-weight: 600;
      }
      .both {
        display: grid;
        gap: 2rem clamp(1.5rem, 3cqi, 3rem);
      }
      .both > * {
        min-width: 0;
      }
      @container (min-width: 58rem) {
        .both {
          grid-template-columns: 3fr 2fr;
        }
      }
      @container (min-width: 110rem) {
        .both {
          grid-template-columns: 5fr 6fr;
        }
        .outcome {
          display: grid;
          grid-template-columns: 1fr 1fr;
          gap: 2rem 3rem;
        }
      }
      .add,
      .file {
        padding: 0.9rem 1.1rem 1.1rem;
        border: 1px dashed var(--control-edge);
        border-radius: 0.6rem;
      }
      .add h3 {
        margin-bottom: 0.6rem;
      }
      .file {
        margin-bottom: 1.2rem;
        border-style: solid;
        border-color: var(--edge);
        background: var(--sheet);
      }
      .text {
        margin-top: 1rem;
      }
      .points {
        margin-top: 1.8rem;
      }
      @container (min-width: 110rem) {
        .points {
          margin-top: 0;
        }
      }
      summary {
        cursor: pointer;
        width: fit-content;
        min-height: 1.6rem;
        font-weight: 600;
      }
      pre {
        margin: 0.6rem 0 0;
        font-size: 0.875rem;
        white-space: pre-wrap;
        overflow-wrap: anywhere;
      }
      .assumed {
        margin-top: 1.4rem;
      }
      dl {
        margin-top: 0.4rem;
        font-size: 0.9375rem;
      }
      dt {
        margin-top: 0.4rem;
        overflow-wrap: anywhere;
      }
      h2:focus {
        outline: none;
      }
    `,
  ];

  #draft = new DesignDraft(deskLink, () => this.requestUpdate());
  #isOpened = false;
  #onLeave = (event: BeforeUnloadEvent): void => {
    if (this.#draft.isUnsaved && this.shared.mayAct) event.preventDefault();
  };

  constructor() {
    super();
    this.beginning = false;
    this.complaints = {};
    this.railComplaints = {};
    this.said = '';
    this.saved = '';
  }

  override connectedCallback(): void {
    super.connectedCallback();
    window.addEventListener('beforeunload', this.#onLeave);
    if (!this.#isOpened) void this.#draft.open();
    this.#isOpened = true;
  }

  protected override render(): TemplateResult {
    const { trouble, preview } = this.#draft;
    return html`
      ${
        trouble === ''
          ? nothing
          : html`<p class="trouble" role="alert">
              ${trouble}
              <button class="button" @click=${() => void this.#again()}>Try again</button>
            </p>`
      }
      ${this.beginning ? this.#begin() : preview === null ? html`<p>Opening the design …</p>` : this.#design()}
    `;
  }

  #begin(): TemplateResult {
    return html`<rm-design-begin
      .mains=${this.shared.preferences.mains}
      .complaints=${this.complaints}
      @rm-begin=${(event: CustomEvent<BeginRequest>) => void this.#begun(event.detail)}
      @rm-begin-not=${() => (this.beginning = false)}
    ></rm-design-begin>`;
  }

  #design(): TemplateResult {
    const draft = this.#draft;
    const problems = draft.preview?.problems ?? [];
    return html`
      <h2 tabindex="-1">The design, and what comes of it</h2>
      <p class="quiet">Change anything: every number and every word of advice follows while you type.</p>
      <div class="bar">
        <button class="button" @click=${() => this.#startNew()}>New design</button>
        <button class="button" ?disabled=${!draft.canUndo} @click=${() => this.#undo()}>Undo</button>
        <label>
          Load
          <select @change=${(event: Event) => this.#setLoad(event)}>
            ${LOADS.map((load) => html`<option ?selected=${load === draft.load}>${load}</option>`)}
          </select>
        </label>
        <span class="said" role="status">${this.said}</span>
      </div>
      ${this.#file(problems.length > 0)}
      <div class="both">
        <div
          @rm-edit=${(event: CustomEvent<DesignEdit[]>) => this.#edit(event.detail)}
          @rm-remove-rail=${(event: CustomEvent<string>) => this.#removeRail(event.detail)}
        >
          ${this.#wrong(problems.filter(({ key }) => key === '').map(({ line, words }) => `Line ${line}: ${words}`))}
          <rm-design-form
            .groups=${draft.preview?.form ?? []}
            .problems=${problems}
            .prediction=${draft.prediction}
            ?current=${draft.isCurrent}
          ></rm-design-form>
          <div class="add">
            <h3>One more rail</h3>
            <rm-design-add-rail
              .complaints=${this.railComplaints}
              @rm-add-rail=${(event: CustomEvent<RailAnswers>) => void this.#addRail(event.detail)}
            ></rm-design-add-rail>
          </div>
          <details class="text">
            <summary>The file as it would be written</summary>
            <pre tabindex="0">${draft.text}</pre>
          </details>
        </div>
        ${this.#outcome(problems.length)}
      </div>
    `;
  }

  #wrong(words: readonly string[]): readonly TemplateResult[] {
    return words.map((one) => html`<p class="trouble">${one}</p>`);
  }

  #file(wrong: boolean): TemplateResult {
    const { file, folder, isUnsaved } = this.#draft;
    if (!this.shared.mayAct) {
      return html`<p class="file">
        What you change here is tried out on this page alone; nothing is saved.
      </p>`;
    }
    return html`<div class="file">
      <rm-design-save
        .file=${file}
        .folder=${folder}
        .suggested=${this.#fileName()}
        ?unsaved=${isUnsaved}
        ?wrong=${wrong}
        .said=${this.saved}
        @rm-save=${(event: CustomEvent<string>) => void this.#save(event.detail)}
      ></rm-design-save>
    </div>`;
  }

  #outcome(problems: number): TemplateResult {
    const { prediction, isCurrent } = this.#draft;
    if (prediction === null) {
      return html`<div>
        <h2>What comes of it</h2>
        <p>${problems === 0 ? 'Working it out …' : 'Put right what is marked, and the numbers come.'}</p>
      </div>`;
    }
    return html`<div class="outcome" @rm-cure=${(event: CustomEvent<CureView>) => this.#cure(event.detail)}>
      <section aria-labelledby="advice-title">
        <h2 id="advice-title" tabindex="-1">Advice</h2>
        ${isCurrent ? nothing : html`<p class="quiet">As it was before the last change.</p>`}
        <rm-design-advice .prediction=${prediction} ?current=${isCurrent}></rm-design-advice>
      </section>
      <section class="points" aria-labelledby="points-title">
        <h2 id="points-title">What it should read</h2>
        <rm-design-points .prediction=${prediction} ?current=${isCurrent}></rm-design-points>
        <details class="assumed">
          <summary>What the numbers rest on that the design doesn’t say</summary>
          <dl>
            ${prediction.assumed.map(
              ({ key, value, because }) =>
                html`<dt>${key}: <strong>${value}</strong></dt>
                  <dd class="quiet">${because}</dd>`,
            )}
          </dl>
        </details>
      </section>
    </div>`;
  }

  /** `Yard lights` goes to `yard-lights.design.yaml`. */
  #fileName(): string {
    const name = this.#draft.preview?.form.find(({ path }) => path[0] === 'design')?.fields[0]?.value ?? '';
    const plain = String(name)
      .toLowerCase()
      .replace(/[^a-z0-9]+/g, '-')
      .replace(/^-|-$/g, '');
    return `${plain === '' ? 'supply' : plain.slice(0, 60)}.design.yaml`;
  }

  #edit(edits: readonly DesignEdit[]): void {
    this.said = '';
    this.saved = '';
    this.#draft.edit(edits);
  }

  #cure({ changes }: CureView): void {
    this.#draft.edit(changes.map(({ path, value }) => ({ path, value })));
    this.said = `Applied: ${changes.map(({ key, before, after }) => `${key} ${before ?? 'not written'} → ${after}`).join(', ')}.`;
    // The button goes away with what it cured.
    this.#focus('#advice-title');
  }

  #undo(): void {
    this.#draft.undo();
    this.said = 'The last change is taken back.';
  }

  #setLoad(event: Event): void {
    const load = LOADS.find((one) => one === (event.target as HTMLSelectElement).value);
    if (load !== undefined) this.#draft.setLoad(load);
  }

  #removeRail(rail: string): void {
    this.#draft.edit([{ path: ['rails', rail], value: null }]);
    this.said = `The ${rail} rail is taken out. Undo brings it back.`;
    this.#focus('h2');
  }

  async #addRail(answers: RailAnswers): Promise<void> {
    this.railComplaints = (await this.#draft.addRail(answers)) ?? {};
    if (Object.keys(this.railComplaints).length > 0) return;
    const form = this.renderRoot.querySelector('rm-design-add-rail');
    if (form instanceof RmDesignAddRail) form.clear();
    this.said = `The ${answers.name || 'new'} rail is there, with a regulator and a heatsink suggested.`;
  }

  #startNew(): void {
    this.complaints = {};
    this.beginning = true;
    void this.updateComplete.then(() => {
      const begin = this.renderRoot.querySelector('rm-design-begin');
      begin?.shadowRoot?.querySelector<HTMLElement>('input')?.focus();
    });
  }

  async #begun(request: BeginRequest): Promise<void> {
    try {
      const { text, complaints } = await deskLink.begin(request);
      this.complaints = complaints ?? {};
      if (text === null) return;
      this.#draft.begin(text);
      this.saved = '';
      this.said = `The design is made. Look it over${this.shared.mayAct ? ', apply what the advice offers, then save it' : ''}.`;
      this.beginning = false;
      this.#focus('h2');
    } catch (error) {
      if (!(error instanceof DeskTrouble)) throw error;
      this.complaints = { rails: error.message };
    }
  }

  async #save(file: string): Promise<void> {
    const why = await this.#draft.save(file);
    this.saved = why ?? `Saved as ${file}. It takes effect at the next start.`;
  }

  async #again(): Promise<void> {
    if (this.#draft.text === '') await this.#draft.open();
    else this.#draft.edit([]);
  }

  #focus(selector: string): void {
    void this.updateComplete.then(() => this.renderRoot.querySelector<HTMLElement>(selector)?.focus());
  }
}

customElements.define('rm-design-view', RmDesignView);
