import { LitElement, css, html, nothing, type CSSResultGroup, type TemplateResult } from 'lit';
import type { InstrumentToAdd, ListeningView, PortsView } from '../../daemon/serve/instrument-messages.js';
import { DeskTrouble } from '../design/desk-link.js';
import { sharedStyles } from '../theme.js';
import { heardLines, heardStyles } from './heard-lines.js';
import { instrumentLink } from './instrument-link.js';

const LISTEN_SECONDS = 5;
const ASK_AGAIN_MS = 400;

/** What is plugged in, and what each port says once a person has it opened (`rm-add` with the instrument). */
export class RmPorts extends LitElement {
  static override properties = {
    live: { type: Boolean },
    mayAct: { type: Boolean },
    view: { state: true },
    listening: { state: true },
    trouble: { state: true },
  };
  declare live: boolean;
  declare mayAct: boolean;
  declare view: PortsView | null;
  declare listening: ListeningView | null;
  declare trouble: string;

  static override styles: CSSResultGroup = [
    sharedStyles,
    heardStyles,
    css`
      .row,
      form {
        display: flex;
        flex-wrap: wrap;
        align-items: center;
        gap: 0.4rem 0.8rem;
      }
      li {
        padding: 0.6rem 0;
        border-top: 1px solid var(--edge);
      }
      li .name {
        flex: 1 1 12rem;
        min-width: 0;
        overflow-wrap: anywhere;
      }
      form {
        align-items: end;
        margin-top: 0.7rem;
      }
      form label {
        flex: 1 1 14rem;
        font-size: 0.9375rem;
      }
      form input {
        width: 100%;
      }
      .caution {
        margin-top: 0.6rem;
        padding-inline-start: 0.7rem;
        border-inline-start: 3px solid var(--accent);
        font-size: 0.9375rem;
      }
      .result {
        margin-top: 1rem;
        padding: 0.8rem 1rem 1rem;
        border: 1px solid var(--edge);
        border-radius: 0.6rem;
        background: var(--sheet);
      }
      .result > * + * {
        margin-top: 0.5rem;
      }
      p {
        overflow-wrap: anywhere;
      }
      h3:focus {
        outline: none;
      }
    `,
  ];

  #timer: ReturnType<typeof setTimeout> | undefined;

  constructor() {
    super();
    this.view = null;
    this.listening = null;
    this.trouble = '';
  }

  override connectedCallback(): void {
    super.connectedCallback();
    void this.look();
    if (this.listening?.isOver === false) void this.#follow();
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    clearTimeout(this.#timer);
  }

  /** Lists what is plugged in now. Nothing is opened. */
  async look(): Promise<void> {
    await this.#try(async () => void (this.view = await instrumentLink.ports()));
  }

  protected override render(): TemplateResult {
    return html`<div class="row">
        <h2>What is plugged in</h2>
        <button class="button" ?disabled=${!this.live} @click=${() => void this.look()}>Look again</button>
      </div>
      ${this.trouble === '' ? nothing : html`<p role="alert"><strong>${this.trouble}</strong></p>`}
      ${this.#ports()} ${this.mayAct ? this.#another() : nothing}
      ${this.listening === null ? nothing : this.#result(this.listening)}`;
  }

  #another(): TemplateResult {
    return html`<form @submit=${(event: SubmitEvent) => this.#typed(event)}>
        <label>
          Another port
          <input type="text" autocomplete="off" spellcheck="false" placeholder="COM3 or host:port" />
        </label>
        <button class="button" ?disabled=${!this.#canListen()}>Listen there</button>
      </form>
      <p class="caution">
        Listening opens the port. Many boards restart then, and a board that switches something may switch it:
        take its load off first. Only questions are sent, nothing is set.
      </p>`;
  }

  #ports(): TemplateResult {
    if (this.view === null) return html`<p class="quiet">Looking …</p>`;
    const { ports, why } = this.view;
    if (why !== null) return html`<p>${why}</p>`;
    if (ports.length === 0) {
      return html`<p class="quiet">
        Nothing.${this.mayAct ? ' Join a meter or board by USB and look again, or read your meter by hand.' : ''}
      </p>`;
    }
    return html`<ul>
      ${ports.map(
        ({ path, about, heldBy }) =>
          html`<li class="row">
            <span class="name"
              ><strong>${path}</strong
              >${about === '' ? nothing : html` <span class="quiet">${about}</span>`}</span
            >
            ${
              heldBy === null
                ? this.#listenButton(path)
                : html`<span class="small">in use as <strong>${heldBy}</strong></span>`
            }
          </li>`,
      )}
    </ul>`;
  }

  #listenButton(path: string): TemplateResult | typeof nothing {
    if (!this.mayAct) return nothing;
    return html`<button
      class="button"
      ?disabled=${!this.#canListen()}
      aria-label="Listen at ${path}"
      @click=${() => void this.#listen(path)}
    >
      Listen
    </button>`;
  }

  #result(listening: ListeningView): TemplateResult {
    const { port, isOver, tries, baud, lines, found, why } = listening;
    const speed = baud === null ? '' : ` at ${baud} baud`;
    return html`<section class="result" aria-labelledby="heard-title">
      <h3 id="heard-title" tabindex="-1">${port}${speed}</h3>
      <p role="status">
        ${why ?? (isOver ? (found === '' ? '' : `${found[0]?.toUpperCase()}${found.slice(1)}`) : tries === '' ? 'Listening …' : `Trying: ${tries} …`)}
      </p>
      ${isOver ? nothing : html`<button class="button" @click=${() => void this.#hush()}>Stop listening</button>`}
      ${why === null ? heardLines(lines, `What ${port} sends, and what is read from it`) : nothing}
      ${this.#proposal(listening)}
    </section>`;
  }

  #proposal({ proposal }: ListeningView): TemplateResult | typeof nothing {
    if (proposal === null) return nothing;
    const { driver, options } = proposal;
    const { pattern } = options;
    return html`<p>
        Proposed: driver <strong>${driver}</strong>${
          typeof pattern === 'string' ? html`, pattern <code>${pattern}</code>` : nothing
        }
      </p>
      <button class="button strong" @click=${() => this.#add(proposal)}>Add it to the bench file</button>`;
  }

  #canListen(): boolean {
    return this.live && this.listening?.isOver !== false;
  }

  #typed(event: SubmitEvent): void {
    event.preventDefault();
    const port = this.renderRoot.querySelector('input')?.value.trim() ?? '';
    if (port !== '') void this.#listen(port);
  }

  async #listen(port: string): Promise<void> {
    await this.#try(async () => {
      this.listening = await instrumentLink.listen({ port, seconds: LISTEN_SECONDS });
      await this.updateComplete;
      this.renderRoot.querySelector<HTMLElement>('#heard-title')?.focus();
      this.#again();
    });
  }

  async #hush(): Promise<void> {
    clearTimeout(this.#timer);
    await this.#try(async () => void (this.listening = await instrumentLink.hush()));
    this.renderRoot.querySelector<HTMLElement>('#heard-title')?.focus();
  }

  #again(): void {
    clearTimeout(this.#timer);
    if (this.listening?.isOver === false) this.#timer = setTimeout(() => void this.#follow(), ASK_AGAIN_MS);
  }

  async #follow(): Promise<void> {
    await this.#try(async () => void (this.listening = await instrumentLink.listening()));
    if (this.trouble !== '') this.listening = null;
    else if (this.isConnected) this.#again();
  }

  #add(detail: InstrumentToAdd): void {
    this.listening = null;
    this.dispatchEvent(new CustomEvent('rm-add', { detail, bubbles: true, composed: true }));
  }

  async #try(act: () => Promise<void>): Promise<void> {
    try {
      await act();
      this.trouble = '';
    } catch (error) {
      if (!(error instanceof DeskTrouble)) throw error;
      this.trouble = error.message;
    }
  }
}

customElements.define('rm-ports', RmPorts);
