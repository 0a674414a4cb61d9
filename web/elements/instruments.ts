import { LitElement, css, html, nothing, type CSSResultGroup, type TemplateResult } from 'lit';
import type { InstrumentView } from '../../daemon/serve/messages.js';
import type { Standing } from '../point-standing.js';
import { sharedStyles } from '../theme.js';
import { mark, markStyles } from './mark.js';

const STATE_SHAPES: Readonly<Record<InstrumentView['state'], Standing>> = {
  reading: 'inside',
  open: 'waiting',
  waiting: 'waiting',
  lost: 'outside',
  closed: 'not-measured',
};

/** The words that stand for the fault codes of the drivers. Others are shown as they come. */
const FAULT_WORDS: Readonly<Record<string, string>> = {
  'line-too-long': 'lines too long',
  'not-text': 'answers that were no text',
  'not-understood': 'answers not understood',
  'no-answer': 'questions without an answer',
  'late-answer': 'answers that came too late',
  'instrument-error': 'errors told by the instrument',
  'write-failed': 'commands that couldn’t be sent',
  'wrong-device': 'times another device answered',
  'driver-failed': 'times its driver failed',
  'not-recorded': 'captures that couldn’t be recorded',
};

/** What is on the table: every instrument with its link, its state and what went wrong with it. */
export class RmInstruments extends LitElement {
  static override properties = { instruments: { attribute: false }, live: { type: Boolean } };
  declare instruments: readonly InstrumentView[];
  declare live: boolean;

  static override styles: CSSResultGroup = [
    sharedStyles,
    markStyles,
    css`
      li {
        padding: 0.7rem 0;
        border-top: 1px solid var(--edge);
      }
      li:first-child {
        border-top: 0;
      }
      .head {
        display: flex;
        flex-wrap: wrap;
        justify-content: space-between;
        gap: 0 1rem;
      }
      .state {
        display: inline-flex;
        align-items: center;
        gap: 0.4rem;
        font-weight: 600;
      }
      p {
        overflow-wrap: anywhere;
      }
    `,
  ];

  protected override render(): TemplateResult {
    return html`<h2>Instruments</h2>
      ${
        this.instruments.length === 0
          ? html`<p class="quiet">
              ${
                this.live
                  ? 'None yet. Name them in the bench file: each with its driver, its link and its channels.'
                  : 'Not heard of yet.'
              }
            </p>`
          : html`<ul>
              ${this.instruments.map((instrument) => this.#instrument(instrument))}
            </ul>`
      }`;
  }

  #instrument(instrument: InstrumentView): TemplateResult {
    const { name, driver, link, state, why, identity, lastFault } = instrument;
    const faults = Object.entries(instrument.faults).filter(([, count]) => count > 0);
    return html`<li>
      <div class="head">
        <h3>${name}</h3>
        <span class="state"
          >${mark(this.live ? STATE_SHAPES[state] : 'not-live')}
          ${this.live ? state : `not live, was ${state}`}</span
        >
      </div>
      <p class="small quiet">${driver} on ${link}</p>
      ${identity ? html`<p class="small quiet">says it is “${identity}”</p>` : nothing}
      ${why && state !== 'reading' ? html`<p class="small">${why}</p>` : nothing}
      ${
        faults.length > 0
          ? html`<p class="small number">
              ${faults.map(([code, count]) => `${count} ${FAULT_WORDS[code] ?? code}`).join(', ')}.
              ${lastFault ? html`Newest: <q>${lastFault}</q>` : nothing}
            </p>`
          : nothing
      }
    </li>`;
  }
}

customElements.define('rm-instruments', RmInstruments);
