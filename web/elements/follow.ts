import {
  LitElement,
  css,
  html,
  nothing,
  type CSSResultGroup,
  type PropertyValues,
  type TemplateResult,
} from 'lit';
import type { Round } from '../probe-follow.js';
import { sentenceCase } from '../format.js';
import { sharedStyles } from '../theme.js';
import { tell } from '../tell.js';

/** A request to the page: begin with a channel, go on, go back, end. */
export type FollowWish =
  { readonly kind: 'start'; readonly channel: string } | { readonly kind: 'forward' | 'back' | 'stop' };

/** Leads a person who holds a probe from test point to test point (`rm-follow` with what they want). */
export class RmFollow extends LitElement {
  static override properties = {
    round: { attribute: false },
    words: { attribute: false },
    channels: { attribute: false },
    live: { type: Boolean },
    simulated: { type: Boolean },
  };
  declare round: Round | null;
  declare words: string;
  declare channels: readonly string[];
  declare live: boolean;
  declare simulated: boolean;

  static override styles: CSSResultGroup = [
    sharedStyles,
    css`
      .line {
        display: flex;
        flex-wrap: wrap;
        align-items: center;
        gap: 0.5rem 0.8rem;
        margin-top: 0.6rem;
      }
      .words {
        margin-top: 0.5rem;
        font-size: clamp(1.4rem, 1rem + 1.4vw, 2.6rem);
        font-weight: 640;
        line-height: 1.2;
      }
      .going {
        padding: 0.9rem 1.1rem;
        border: 2px solid var(--accent);
        border-radius: 0.6rem;
        background: var(--sheet);
      }
      label {
        display: flex;
        flex-wrap: wrap;
        align-items: center;
        gap: 0.4rem;
      }
    `,
  ];

  protected override render(): TemplateResult | typeof nothing {
    if (this.channels.length === 0) return nothing;
    return this.round === null ? this.#offer() : this.#going(this.round);
  }

  /** A foot switch that sends Enter presses what has the focus. */
  protected override updated(changed: PropertyValues<this>): void {
    if (changed.get('round') !== null || this.round === null) return;
    this.renderRoot.querySelector<HTMLElement>('.strong')?.focus();
  }

  #offer(): TemplateResult {
    return html`<section aria-labelledby="title">
      <h2 id="title">Measure without looking</h2>
      <p class="small quiet">
        Put the probe on the point that is named, hold still, hear the verdict, lift, and the next one is
        named.
        ${this.simulated ? '' : 'Low-voltage side only, one hand, and a tip that can’t slip: a slip shorts live parts.'}
      </p>
      <form class="line" @submit=${(event: SubmitEvent) => this.#start(event)}>
        <label
          >Probe of
          <select ?disabled=${!this.live}>
            ${this.channels.map((channel) => html`<option>${channel}</option>`)}
          </select></label
        >
        <button class="button" ?disabled=${!this.live}>Follow this probe</button>
      </form>
    </section>`;
  }

  #going(round: Round): TemplateResult {
    const asks = round.phase.kind === 'asks';
    const count = `${round.done.length} of ${round.points.length} points done`;
    return html`<section class="going" aria-labelledby="title">
      <h2 id="title">Following ${round.instrument} ${round.channel}</h2>
      <p class="words number" role="status">
        ${this.live ? sentenceCase(this.words) : 'Not live: nothing is followed now.'}
      </p>
      <p class="small quiet">
        ${count}. A rail that breaks down looks like a lifted probe: look at the supply when something sounds
        wrong.
      </p>
      <div class="line">
        <button class="button strong" ?disabled=${!this.live} @click=${() => this.#tell({ kind: 'forward' })}>
          ${asks ? 'Yes' : 'Next'}
        </button>
        <button class="button" ?disabled=${!this.live} @click=${() => this.#tell({ kind: 'back' })}>
          ${asks ? 'No' : 'Back'}
        </button>
        <button class="button" @click=${() => this.#tell({ kind: 'stop' })}>End</button>
      </div>
    </section>`;
  }

  #start(event: SubmitEvent): void {
    event.preventDefault();
    const channel = this.renderRoot.querySelector('select')?.value;
    if (channel === undefined) return;
    this.#tell({ kind: 'start', channel });
  }

  #tell(detail: FollowWish): void {
    tell(this, 'rm-follow', detail);
  }
}

customElements.define('rm-follow', RmFollow);
