import { LitElement, css, html, type CSSResultGroup, type TemplateResult } from 'lit';
import type { JobListView, OutcomeView } from '../../daemon/serve/job-views.js';
import '../elements/job-compare.js';
import { RmJobList } from '../elements/job-list.js';
import '../elements/job-recording.js';
import { askList, askOutcome, troubleWords } from '../job/ask-job.js';
import { sharedStyles } from '../theme.js';
import type { Shared, ViewElement } from './view.js';

type Shown =
  | { readonly kind: 'list' }
  | { readonly kind: 'recording'; readonly file: string }
  | { readonly kind: 'compare'; readonly before: string; readonly after: string };

/** The recordings of the job: a list, one of them, or two over one axis. */
export class RmJobView extends LitElement implements ViewElement {
  static override properties = {
    shared: { attribute: false },
    list: { state: true },
    outcomes: { state: true },
    chosen: { state: true },
    shown: { state: true },
    trouble: { state: true },
  };
  declare shared: Shared;
  declare list: JobListView | null;
  declare outcomes: ReadonlyMap<string, OutcomeView | string>;
  declare chosen: readonly string[];
  declare shown: Shown;
  declare trouble: string;

  static override styles: CSSResultGroup = [
    sharedStyles,
    css`
      .page {
        padding: 1.3rem var(--side) 3rem;
      }
      .back {
        margin-bottom: 1rem;
      }
    `,
  ];

  #reading: AbortController | null = null;

  constructor() {
    super();
    this.list = null;
    this.outcomes = new Map();
    this.chosen = [];
    this.shown = { kind: 'list' };
    this.trouble = '';
  }

  override connectedCallback(): void {
    super.connectedCallback();
    void this.#look();
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.#reading?.abort();
  }

  protected override render(): TemplateResult {
    const { shown } = this;
    switch (shown.kind) {
      case 'list':
        return html`<div class="page">${this.#list()}</div>`;
      case 'recording':
        return html`<div class="page">
          ${this.#back(shown.file)}
          <rm-job-recording .file=${shown.file}></rm-job-recording>
        </div>`;
      case 'compare':
        return html`<div class="page">
          ${this.#back(shown.after)}
          <rm-job-compare .earlier=${shown.before} .later=${shown.after}></rm-job-compare>
        </div>`;
    }
  }

  #list(): TemplateResult {
    if (this.list === null) {
      return this.trouble === ''
        ? html`<p role="status">Looking into the job’s folder …</p>`
        : html`<p role="alert">${this.trouble}</p>
            <p><button class="button" @click=${() => void this.#look()}>Try again</button></p>`;
    }
    return html`${this.trouble === '' ? '' : html`<p role="alert">${this.trouble}</p>`}
      <rm-job-list
        .list=${this.list}
        .outcomes=${this.outcomes}
        .chosen=${this.chosen}
        @rm-job-again=${() => void this.#look()}
        @rm-job-open=${(event: CustomEvent<string>) => (this.shown = { kind: 'recording', file: event.detail })}
        @rm-job-choose=${(event: CustomEvent<string>) => this.#choose(event.detail)}
        @rm-job-compare=${() => this.#compare()}
      ></rm-job-list>`;
  }

  #back(file: string): TemplateResult {
    return html`<p class="back">
      <button class="button" @click=${() => void this.#toList(file)}>
        <span aria-hidden="true">‹</span> All recordings
      </button>
    </p>`;
  }

  async #toList(file: string): Promise<void> {
    this.shown = { kind: 'list' };
    await this.updateComplete;
    const list = this.renderRoot.querySelector('rm-job-list');
    if (!(list instanceof RmJobList)) return;
    await list.updateComplete;
    list.focusOn(file);
  }

  /** The list at once, then what came out of each, the newest first. */
  async #look(): Promise<void> {
    this.#reading?.abort();
    const reading = new AbortController();
    this.#reading = reading;
    try {
      const list = await askList(reading.signal);
      this.list = list;
      this.trouble = '';
      this.chosen = this.chosen.filter((file) => list.recordings.some((one) => one.file === file));
    } catch (error) {
      if (!reading.signal.aborted) this.trouble = troubleWords(error);
      return;
    }
    for (const { file, begun } of this.list.recordings) {
      if (begun === null) continue;
      const outcome = await askOutcome(file, reading.signal).catch(troubleWords);
      if (reading.signal.aborted) return;
      this.outcomes = new Map(this.outcomes).set(file, outcome);
    }
  }

  #choose(file: string): void {
    this.chosen = this.chosen.includes(file)
      ? this.chosen.filter((one) => one !== file)
      : [...this.chosen, file].slice(0, 2);
  }

  /** The list is newest first, so the later one of the two stands before the other. */
  #compare(): void {
    const [after, before] = (this.list?.recordings ?? []).filter(({ file }) => this.chosen.includes(file));
    if (after === undefined || before === undefined) return;
    this.shown = { kind: 'compare', before: before.file, after: after.file };
  }
}

customElements.define('rm-job-view', RmJobView);
