import { LitElement, css, html, nothing, type CSSResultGroup, type TemplateResult } from 'lit';
import type {
  BenchEdit,
  BenchPreview,
  InstrumentToAdd,
  OpenedBench,
} from '../../daemon/serve/instrument-messages.js';
import { BenchDraft } from '../bench-file/bench-draft.js';
import '../bench-file/instrument-form.js';
import { instrumentLink } from '../bench-file/instrument-link.js';
import '../bench-file/ports.js';
import '../bench-file/running.js';
import '../design/save.js';
import '../elements/typing.js';
import type { Typed } from '../elements/typing.js';
import { sharedStyles } from '../theme.js';
import type { Shared, ViewElement } from './view.js';

/** For an instrument that isn't plugged in now, or doesn't say what it is. */
const ON_A_CABLE: InstrumentToAdd = {
  name: 'instrument',
  about: '',
  driver: 'scpi-meter',
  link: { serial: '/dev/ttyUSB0', baud: 9600 },
  options: {},
  channels: [{ name: 'volts', says: { measures: 'dc-volts' }, about: '' }],
};

/** What is on the table: what runs and what it sends, what is plugged in, and the bench file as a form. */
export class RmInstrumentsView extends LitElement implements ViewElement {
  static override properties = {
    shared: { attribute: false },
    said: { state: true },
    saved: { state: true },
  };
  declare shared: Shared;
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
      .both {
        display: grid;
        gap: 2rem clamp(1.5rem, 3cqi, 3rem);
      }
      .both > * {
        min-width: 0;
      }
      @container (min-width: 58rem) {
        .both {
          grid-template-columns: 2fr 3fr;
        }
      }
      .now > * + * {
        margin-top: 2rem;
      }
      li {
        border-top: 1px solid var(--edge);
      }
      .forms {
        display: grid;
        grid-template-columns: repeat(auto-fill, minmax(min(100%, 34rem), 1fr));
        align-items: start;
        gap: 1rem;
        margin-top: 1rem;
      }
      .file {
        margin-block: 0.8rem;
        padding: 0.9rem 1.1rem 1.1rem;
        border: 1px solid var(--edge);
        border-radius: 0.6rem;
        background: var(--sheet);
      }
      .adds {
        display: flex;
        flex-wrap: wrap;
        gap: 0.5rem;
        margin-top: 0.6rem;
      }
      .trouble {
        margin-block: 0.8rem;
        padding: 0.5rem 0.9rem;
        border: 2px solid var(--outside);
        border-radius: 0.5rem;
        font-weight: 600;
        overflow-wrap: anywhere;
      }
      .said {
        font-weight: 650;
      }
      summary {
        cursor: pointer;
        width: fit-content;
        min-height: 2rem;
        font-weight: 600;
      }
      .text {
        margin-top: 1rem;
      }
      pre {
        margin: 0.6rem 0 0;
        font-size: 0.875rem;
        white-space: pre-wrap;
        overflow-wrap: anywhere;
      }
      h2:focus {
        outline: none;
      }
    `,
  ];

  #draft = new BenchDraft(instrumentLink, () => this.requestUpdate());
  #isOpened = false;
  #onLeave = (event: BeforeUnloadEvent): void => {
    if (this.#draft.isUnsaved && this.shared.mayAct) event.preventDefault();
  };

  constructor() {
    super();
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
    return html`<div class="both">
      <div class="now">
        ${this.#running()} ${this.#typing()}
        <rm-ports
          ?live=${this.shared.live}
          ?mayAct=${this.shared.mayAct}
          @rm-add=${(event: CustomEvent<InstrumentToAdd>) => void this.#add(event.detail)}
        ></rm-ports>
      </div>
      <div>${this.#bench()}</div>
    </div>`;
  }

  #running(): TemplateResult {
    const { state, live } = this.shared;
    return html`<section>
      <h2>Running now</h2>
      ${
        state.instruments.length === 0
          ? html`<p class="quiet">${live ? 'No instrument.' : 'Not heard of yet.'}</p>`
          : html`<ul>
              ${state.instruments.map(
                (instrument) =>
                  html`<li>
                    <rm-running-lines .instrument=${instrument} ?live=${live}></rm-running-lines>
                  </li>`,
              )}
            </ul>`
      }
    </section>`;
  }

  #typing(): TemplateResult | typeof nothing {
    const { state, live, mayAct } = this.shared;
    if (state.typing.length === 0 || !mayAct) return nothing;
    return html`<section>
      <p class="quiet">
        By hand: type what your meter shows, press Enter, and the next test point is asked for.
      </p>
      <rm-typing
        .places=${state.typing}
        .points=${state.points}
        ?live=${live}
        @rm-typed=${(event: CustomEvent<Typed>) => this.#typed(event.detail)}
      ></rm-typing>
    </section>`;
  }

  #bench(): TemplateResult {
    const { opened, preview, trouble, text } = this.#draft;
    const { mayAct } = this.shared;
    return html`<h2 id="bench-title" tabindex="-1">The bench file</h2>
      ${
        trouble === ''
          ? nothing
          : html`<p class="trouble" role="alert">
              ${trouble} <button class="button" @click=${() => void this.#again()}>Try again</button>
            </p>`
      }
      ${
        opened === null || preview === null
          ? html`<p class="quiet">${trouble === '' ? 'Opening it …' : ''}</p>`
          : html`<p class="quiet">What is on the table, and where each probe sits when a session starts.</p>
              ${mayAct ? this.#form(opened, preview) : nothing}
              <details class="text" ?open=${!mayAct}>
                <summary>${mayAct ? 'The file as it would be written' : 'The file'}</summary>
                <pre tabindex="0">${text}</pre>
              </details>`
      }`;
  }

  #form(opened: OpenedBench, { problems, instruments }: BenchPreview): TemplateResult {
    return html`<div class="file">
        <rm-design-save
          .kind=${'bench'}
          .file=${this.#draft.file}
          .folder=${opened.folder}
          .suggested=${opened.suggested}
          ?unsaved=${this.#draft.isUnsaved}
          ?wrong=${problems.length > 0}
          .said=${this.saved}
          @rm-save=${(event: CustomEvent<string>) => void this.#save(event.detail)}
        ></rm-design-save>
      </div>
      <p class="said" role="status">${this.said}</p>
      ${this.#general(problems.filter(({ key }) => !key.startsWith('instruments.')))}
      <div class="adds">
        <button class="button" @click=${() => void this.#add(opened.byHand)}>
          Add a meter that is read by hand
        </button>
        <button class="button" @click=${() => void this.#add(ON_A_CABLE)}>
          Add an instrument on a cable
        </button>
      </div>
      <div
        class="forms"
        @rm-bench-edit=${(event: CustomEvent<readonly BenchEdit[]>) => void this.#edit(event.detail)}
      >
        ${instruments.map(
          (instrument) =>
            html`<rm-instrument-form
              .instrument=${instrument}
              .opened=${opened}
              .problems=${problems}
              .running=${this.shared.state.instruments.map(({ name }) => name)}
            ></rm-instrument-form>`,
        )}
      </div>`;
  }

  #general(
    problems: readonly { readonly line: number; readonly words: string }[],
  ): readonly TemplateResult[] {
    return problems.map(({ line, words }) => html`<p class="trouble">Line ${line}: ${words}</p>`);
  }

  async #edit(edits: readonly BenchEdit[]): Promise<void> {
    this.saved = '';
    await this.#draft.edit(...edits);
    const refused = this.#draft.preview?.refused ?? null;
    const removed = edits.find(({ kind }) => kind === 'remove');
    this.said =
      refused !== null
        ? `Not changed: ${refused}.`
        : removed?.kind === 'remove'
          ? `${removed.instrument} is taken out.`
          : '';
    if (removed !== undefined) this.#focus();
  }

  async #add(instrument: InstrumentToAdd): Promise<void> {
    this.saved = '';
    await this.#draft.edit({ kind: 'add', instrument });
    const added = this.#draft.preview?.instruments.at(-1)?.name ?? instrument.name;
    const refused = this.#draft.preview?.refused ?? null;
    this.said =
      refused === null ? `${added} is added. Say where its probes sit, then save.` : `Not added: ${refused}.`;
    this.#focus();
  }

  async #save(file: string): Promise<void> {
    const why = await this.#draft.save(file);
    this.saved =
      why ?? `Saved as ${file}. The running session goes on as it was started; start anew to use it.`;
  }

  async #again(): Promise<void> {
    if (this.#draft.preview === null) await this.#draft.open();
    else await this.#draft.edit();
  }

  #typed({ place: { instrument, channel, point, there }, text }: Typed): void {
    const { send } = this.shared;
    if (!there) send({ kind: 'probe', instrument, channel, point });
    send({ kind: 'typed', instrument, channel, text });
  }

  #focus(): void {
    void this.updateComplete.then(() => this.renderRoot.querySelector<HTMLElement>('#bench-title')?.focus());
  }
}

customElements.define('rm-instruments-view', RmInstrumentsView);
