import { LitElement, css, html, nothing, type CSSResultGroup, type TemplateResult } from 'lit';
import type { AlarmView } from '../../daemon/serve/messages.js';
import { isAside, topUnacknowledged, worstFirst } from '../alarm-order.js';
import { VIEWS } from '../views/registry.js';
import { sharedStyles } from '../theme.js';

/** On a view that doesn't list the alarms: how many there are, and the button for the worst that waits. */
export class RmAlarmStrip extends LitElement {
  static override properties = {
    alarms: { attribute: false },
    live: { type: Boolean },
    mayAct: { type: Boolean },
  };
  declare alarms: readonly AlarmView[];
  declare live: boolean;
  declare mayAct: boolean;

  static override styles: CSSResultGroup = [
    sharedStyles,
    css`
      div {
        display: flex;
        flex-wrap: wrap;
        align-items: center;
        gap: 0.3rem 1.2rem;
        padding: 0.35rem var(--side);
        border-bottom: 1px solid var(--edge);
        background: var(--sheet);
      }
      p {
        font-weight: 650;
      }
      a {
        color: var(--accent);
        padding-block: 0.2rem;
      }
    `,
  ];

  protected override render(): TemplateResult | typeof nothing {
    const open = worstFirst(this.alarms).filter((alarm) => !isAside(alarm));
    if (open.length === 0) return nothing;
    const waiting = topUnacknowledged(this.alarms);
    const count = open.length === 1 ? '1 alarm' : `${open.length} alarms`;
    return html`<div>
      <p>${count}${this.live ? '' : ' when last heard'}</p>
      ${
        waiting === null || !this.mayAct
          ? nothing
          : html`<button
              class="button strong"
              ?disabled=${!this.live}
              aria-label=${`Acknowledge: ${waiting.spoken}`}
              @click=${() => this.#acknowledge(waiting.id)}
            >
              Acknowledge
            </button>`
      }
      <a href="#/${VIEWS[0].name}">All of them</a>
    </div>`;
  }

  #acknowledge(detail: string): void {
    this.dispatchEvent(new CustomEvent('rm-acknowledge', { detail, bubbles: true, composed: true }));
  }
}

customElements.define('rm-alarm-strip', RmAlarmStrip);
