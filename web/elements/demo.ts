import { LitElement, css, html, nothing, type CSSResultGroup, type TemplateResult } from 'lit';
import type { DemoView } from '../../daemon/serve/messages.js';
import { sharedStyles } from '../theme.js';

/** The demo's switchboard: which fault the simulated supply has (`rm-fault` with its name). */
export class RmDemo extends LitElement {
  static override properties = {
    demo: { attribute: false },
    live: { type: Boolean },
    mayAct: { type: Boolean },
    speed: { attribute: false },
  };
  declare demo: DemoView;
  declare live: boolean;
  declare mayAct: boolean;
  declare speed: number;

  static override styles: CSSResultGroup = [
    sharedStyles,
    css`
      .faults {
        display: flex;
        flex-wrap: wrap;
        gap: 0.5rem;
        margin-top: 0.7rem;
        border: 0;
        padding: 0;
      }
      .faults .button {
        text-align: start;
      }
      p {
        max-width: 40rem;
      }
      .caution {
        margin-top: 0.8rem;
        padding-inline-start: 0.7rem;
        border-inline-start: 3px solid var(--doubtful);
      }
    `,
  ];

  /** Scrolls here and puts the keyboard's place at the title. */
  reveal(): void {
    this.renderRoot.querySelector<HTMLElement>('#title')?.focus();
  }

  protected override render(): TemplateResult {
    return html`<h2 id="title" tabindex="-1">Simulated supply</h2>
      <p class="small">
        Nothing here is real: no mains, no heat. The parts, the meter and the probes are
        computed${this.speed === 1 ? '' : html`, and time runs <b class="number">${this.speed} times</b> as fast`}.
        ${this.mayAct ? 'Switch a fault in and see what is said about it.' : nothing}
      </p>
      ${this.mayAct ? this.#faults() : html`<p>Now: ${this.demo.faults.find(({ name }) => name === this.demo.fault)?.title ?? this.demo.fault}.</p>`}
      <p class="caution small">
        On a real bench these faults kill parts, and mains kills people. Follow your local code; ask a
        licensed person when unsure.
      </p>`;
  }

  #faults(): TemplateResult {
    const { faults } = this.demo;
    return html`<div class="faults" role="group" aria-labelledby="title">
        ${faults.map((fault) => this.#fault(fault))}
      </div>
      ${faults.length === 0 ? html`<p class="quiet">This demo has no faults to switch in.</p>` : nothing}`;
  }

  #fault({ name, title }: DemoView['faults'][number]): TemplateResult {
    return html`<button
      class="button"
      aria-pressed=${this.demo.fault === name}
      ?disabled=${!this.live}
      @click=${() => this.#pick(name)}
    >
      ${title}
    </button>`;
  }

  #pick(name: string): void {
    this.dispatchEvent(new CustomEvent('rm-fault', { detail: name, bubbles: true, composed: true }));
  }
}

customElements.define('rm-demo', RmDemo);
