import { LitElement, css, html, nothing, type CSSResultGroup, type TemplateResult } from 'lit';
import type { PointView } from '../../daemon/serve/messages.js';
import { sharedStyles } from '../theme.js';

/** Where a probe goes: the channel of an instrument, and a test point or nowhere. */
export interface ProbeMove {
  readonly instrument: string;
  readonly channel: string;
  readonly point: string | null;
}

const NOWHERE = '';

/** Says which channel measures a point and, given channels, lets the person say that they moved a probe (`rm-probe`). */
export class RmProbe extends LitElement {
  static override properties = {
    point: { attribute: false },
    channels: { attribute: false },
    live: { type: Boolean },
  };
  declare point: PointView;
  declare channels: readonly string[];
  declare live: boolean;

  static override styles: CSSResultGroup = [
    sharedStyles,
    css`
      label {
        display: flex;
        flex-wrap: wrap;
        align-items: center;
        gap: 0.3rem 0.6rem;
      }
      select {
        min-height: 2rem;
        padding-block: 0.15rem;
      }
    `,
  ];

  protected override render(): TemplateResult | typeof nothing {
    const by = this.point.measuredBy;
    if (this.channels.length === 0)
      return by === null ? nothing : html`<p class="small">Measured by ${by}</p>`;
    return html`<label class="small">
      Measured by
      <select ?disabled=${!this.live} @change=${(event: Event) => this.#moved(event)}>
        <option value=${NOWHERE} ?selected=${by === null}>nothing</option>
        ${this.channels.map((channel) => html`<option value=${channel} ?selected=${channel === by}>${channel}</option>`)}
      </select>
    </label>`;
  }

  #moved(event: Event): void {
    const select = event.target as HTMLSelectElement;
    const chosen = select.value;
    // Until the daemon says that the probe moved, the old place stands.
    select.value = this.point.measuredBy ?? NOWHERE;
    const by = chosen === NOWHERE ? this.point.measuredBy : chosen;
    if (by === null) return;
    const blank = by.indexOf(' ');
    const detail: ProbeMove = {
      instrument: by.slice(0, blank),
      channel: by.slice(blank + 1),
      point: chosen === NOWHERE ? null : this.point.id,
    };
    this.dispatchEvent(new CustomEvent('rm-probe', { detail, bubbles: true, composed: true }));
  }
}

customElements.define('rm-probe', RmProbe);
