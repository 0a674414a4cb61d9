import { LitElement, css, html, nothing, type CSSResultGroup, type TemplateResult } from 'lit';
import type { PointView, StepPointView, TypingPlace } from '../../daemon/serve/messages.js';
import { formatQuantity, formatRange, formatSessionTime, pointStyle, sentenceCase } from '../format.js';
import { standingOf, standingWords } from '../point-standing.js';
import { sharedStyles } from '../theme.js';
import { mark, markStyles } from './mark.js';
import './probe.js';
import { scale, scaleStyles } from './scale.js';
import type { Typed } from './typing.js';

/**
 * A test point that a step asks for: what it reads now against what it should read in this state, and what was kept.
 * Where a person reads the instrument they type it here (`rm-typed`).
 */
export class RmWalkPoint extends LitElement {
  static override properties = {
    wanted: { attribute: false },
    now: { attribute: false },
    place: { attribute: false },
    channels: { attribute: false },
    live: { type: Boolean },
  };
  declare wanted: StepPointView;
  declare now: PointView;
  /** Where a reading of it is typed; null: an instrument reads it, or none can. */
  declare place: TypingPlace | null;
  declare channels: readonly string[];
  declare live: boolean;

  static override styles: CSSResultGroup = [
    sharedStyles,
    markStyles,
    scaleStyles,
    css`
      :host {
        padding: 0.7rem 0.9rem;
        border: 1px solid var(--edge);
        border-radius: 0.6rem;
        background: var(--sheet);
      }
      h4 {
        margin: 0;
      }
      .reading,
      .kept {
        display: flex;
        flex-wrap: wrap;
        align-items: center;
        gap: 0.2rem 0.6rem;
      }
      .value {
        font-size: 1.5rem;
        font-weight: 650;
      }
      .old {
        color: var(--quiet);
        text-decoration: line-through;
        text-decoration-thickness: 2px;
      }
      .verdict {
        display: inline-flex;
        align-items: center;
        gap: 0.4rem;
        font-weight: 600;
      }
      form {
        display: flex;
        flex-wrap: wrap;
        align-items: end;
        gap: 0.5rem;
        margin-top: 0.5rem;
      }
      label {
        display: grid;
      }
      input[type='text'] {
        width: 8rem;
      }
    `,
  ];

  /** Puts the keyboard's place into the field, where there is one. */
  reach(): void {
    this.renderRoot.querySelector('input')?.focus();
  }

  protected override render(): TemplateResult {
    const { low, high, typical, label, captured } = this.wanted;
    // The step's own band, also in the moment before the bands of the whole page have followed.
    const point = { ...this.now, low, typical, high };
    const style = pointStyle(point);
    const standing = standingOf(point, this.live);
    const old = standing === 'stale' || standing === 'not-live' ? 'old' : '';
    return html`<h4>${sentenceCase(label)}</h4>
      <p class="reading">
        <span class="value number ${old}"
          >${point.value === null ? '—' : formatQuantity(point.value, style)}</span
        >
        <span class="verdict">${mark(standing)} ${standingWords(point, standing)}</span>
      </p>
      ${scale(point, standing)}
      <p class="small number">
        in this state ${formatRange(low, high, style)}, about ${formatQuantity(typical, style)}
      </p>
      <p class="small quiet kept">
        ${
          captured === null
            ? 'Nothing kept yet: it is kept by itself once it stands still.'
            : html`${mark(captured.verdict)} kept at ${formatSessionTime(captured.atMs)}:
              ${formatQuantity(captured.value, style)}, ${captured.verdict}`
        }
      </p>
      ${this.place === null ? this.#probe() : this.#field(this.place)}`;
  }

  #probe(): TemplateResult | typeof nothing {
    if (this.now.measuredBy !== null) return nothing;
    if (this.channels.length === 0) return html`<p class="small">Nothing measures it.</p>`;
    return html`<p class="small">Nothing measures it. Put a probe there and say which.</p>
      <rm-probe .point=${this.now} .channels=${this.channels} ?live=${this.live}></rm-probe>`;
  }

  #field(place: TypingPlace): TemplateResult {
    return html`<form @submit=${(event: SubmitEvent) => this.#submit(event, place)}>
      <label class="small">
        Your meter shows
        <input type="text" autocomplete="off" autocapitalize="off" maxlength="60" ?disabled=${!this.live} />
      </label>
      <button class="button" ?disabled=${!this.live}>Enter</button>
    </form>`;
  }

  #submit(event: SubmitEvent, place: TypingPlace): void {
    event.preventDefault();
    const field = this.renderRoot.querySelector('input');
    const text = field?.value.trim() ?? '';
    if (field === null || text === '') return;
    field.value = '';
    const detail: Typed = { place, text };
    this.dispatchEvent(new CustomEvent('rm-typed', { detail, bubbles: true, composed: true }));
  }
}

customElements.define('rm-walk-point', RmWalkPoint);
