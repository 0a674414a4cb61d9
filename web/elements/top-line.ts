import { LitElement, css, html, nothing, type CSSResultGroup, type TemplateResult } from 'lit';
import type { RecorderView, SessionView } from '../../daemon/serve/messages.js';
import { formatSessionTime } from '../format.js';
import type { SoundState } from '../sound.js';
import { sharedStyles } from '../theme.js';
import { tell } from '../tell.js';

/** Which supply this is, for how long it has been watched, whether that is recorded, and whether it can be heard. */
export class RmTopLine extends LitElement {
  static override properties = {
    session: { attribute: false },
    recorder: { attribute: false },
    live: { type: Boolean },
    sound: { attribute: false },
    sounding: { type: Boolean },
  };
  declare session: SessionView | null;
  declare recorder: RecorderView | null;
  declare live: boolean;
  declare sound: SoundState;
  declare sounding: boolean;

  static override styles: CSSResultGroup = [
    sharedStyles,
    css`
      header {
        display: flex;
        flex-wrap: wrap;
        align-items: center;
        gap: 0.3rem 1.4rem;
        padding: 0.55rem var(--side);
      }
      h1 {
        font-size: 1.0625rem;
        font-weight: 700;
        letter-spacing: -0.01em;
      }
      h1 span {
        font-weight: 450;
      }
      .facts {
        display: flex;
        flex-wrap: wrap;
        gap: 0.1rem 1.2rem;
        flex: 1 1 14rem;
      }
      .facts .bad {
        font-weight: 700;
      }
      .sound {
        display: flex;
        flex-wrap: wrap;
        gap: 0.5rem;
        align-items: center;
      }
      .sound .button {
        padding-inline: 0.7rem;
        font-size: 0.9375rem;
      }
      .sound svg {
        width: 1.1em;
        height: 1.1em;
        margin-inline-end: 0.35em;
        vertical-align: -0.18em;
        fill: none;
        stroke: currentColor;
        stroke-width: 1.7;
        stroke-linecap: round;
        stroke-linejoin: round;
      }
      @media (max-width: 30rem) {
        .sound {
          gap: 0.35rem;
          font-size: 0.875rem;
        }
        .sound .button {
          padding-inline: 0.55rem;
        }
      }
      .wanted {
        border-width: 2px;
        border-color: var(--ink);
      }
    `,
  ];

  protected override render(): TemplateResult {
    return html`<header>
      <h1>Railminder${this.session ? html` <span>· ${this.session.design}</span>` : nothing}</h1>
      <p class="facts small number">${this.#facts()}</p>
      <div class="sound">
        ${this.#soundButton()}
        <button class="button" @click=${() => tell(this, 'rm-sound-test')}>Test tone</button>
        <button class="button" @click=${() => tell(this, 'rm-settings')}>Settings</button>
        <button class="button" @click=${() => tell(this, 'rm-keys')}>Keys</button>
      </div>
    </header>`;
  }

  #facts(): unknown {
    if (!this.session) return html`<span class="quiet">no session heard of yet</span>`;
    const { nowMs, speed } = this.session;
    const fast = speed === 1 ? '' : `, at ${speed} times the speed`;
    return html`<span
        >${this.live ? '' : 'stopped at '}${formatSessionTime(nowMs)} into the session${fast}</span
      >
      ${this.#recording()}`;
  }

  #recording(): TemplateResult | typeof nothing {
    if (!this.recorder) return nothing;
    if (!this.live) return html`<span class="bad">recording: not known</span>`;
    return this.recorder.writing
      ? html`<span>recording</span>`
      : html`<span class="bad">not recording</span>`;
  }

  #soundButton(): TemplateResult {
    const words = { off: 'Sound off: turn on', on: 'Sound on', muted: 'Muted: unmute' };
    const silent = this.sound !== 'on';
    return html`<button
      class="button ${silent ? 'wanted' : ''}"
      @click=${() => tell(this, 'rm-sound-toggle')}
    >
      ${soundShape(this.sound)}${words[this.sound]}${this.sounding && !silent ? ', tone playing' : ''}
    </button>`;
  }
}

function soundShape(state: SoundState): TemplateResult {
  return html`<svg viewBox="0 0 20 20" aria-hidden="true">
    <path d="M3 7.5H6L10 4V16L6 12.5H3Z" />
    <path d=${state === 'on' ? 'M13 7Q15 10 13 13M15.5 5Q19 10 15.5 15' : 'M13 7.5 18 12.5M18 7.5 13 12.5'} />
  </svg>`;
}

customElements.define('rm-top-line', RmTopLine);
