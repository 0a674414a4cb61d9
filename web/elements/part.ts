import { LitElement, css, html, nothing, type CSSResultGroup, type TemplateResult } from 'lit';
import type { MarkView, SessionView, SuspicionView } from '../../daemon/serve/messages.js';
import type { Timeline } from '../chart/timeline.js';
import type { Tracks } from '../chart/tracks.js';
import { formatRange, keepUnits, pointStyle } from '../format.js';
import { percentWords } from '../percent-words.js';
import { standingOf, standingWords } from '../point-standing.js';
import type { SupplyBlock } from '../supply-blocks.js';
import { sharedStyles } from '../theme.js';
import '../chart/plot.js';
import { marksOf } from './charts.js';
import './point.js';
import { tell } from '../tell.js';

/** Words for a part where a person might put a hand. */
const CAUTIONS: Partial<Record<SupplyBlock['kind'], string>> = {
  mains:
    'Mains kills. Pull the plug before you touch anything here, follow your local code, and leave mains wiring to a ' +
    'licensed person where it asks for one.',
  transformer:
    'Mains side. Mains kills: pull the plug before you touch it, follow your local code, and leave the ' +
    'mains wiring to a licensed person where it asks for one.',
  reservoir: 'Stays charged after switch-off. Measure before you touch.',
  filter: 'Stays charged after switch-off, and its follower gets hot. Measure before you touch.',
  rail: 'A regulator’s tab may be live and hot. Switch off before you touch it, and let it cool.',
};

const SEVERITY_WORDS = {
  destroys: 'Destroys parts',
  misbehaves: 'Misbehaves',
  note: 'To know',
  ready: 'To have ready',
} as const;

/** All about one part: its test points with their charts, advice, suspects and the faults that it can have. */
export class RmPart extends LitElement {
  static override properties = {
    block: { attribute: false },
    session: { attribute: false },
    suspicion: { attribute: false },
    tracks: { attribute: false },
    timeline: { attribute: false },
    marks: { attribute: false },
    chosen: { attribute: false },
    live: { type: Boolean },
    simulated: { type: Boolean },
  };
  declare block: SupplyBlock;
  declare session: SessionView | null;
  declare suspicion: SuspicionView | null;
  declare tracks: Tracks;
  declare timeline: Timeline;
  declare marks: readonly MarkView[];
  declare chosen: ReadonlySet<string>;
  declare live: boolean;
  declare simulated: boolean;

  static override styles: CSSResultGroup = [
    sharedStyles,
    css`
      .part {
        display: grid;
        gap: 1rem 1.6rem;
        grid-template-columns: repeat(auto-fit, minmax(min(100%, 22rem), 1fr));
        padding: 0.9rem 1.1rem 1.1rem;
        border: 2px solid var(--accent);
        border-radius: 0.6rem;
        background: var(--paper);
      }
      .part > * {
        min-width: 0;
      }
      .top {
        grid-column: 1 / -1;
        display: flex;
        flex-wrap: wrap;
        align-items: center;
        justify-content: space-between;
        gap: 0.4rem 1rem;
      }
      .caution {
        padding-inline-start: 0.7rem;
        border-inline-start: 3px solid var(--doubtful);
        font-size: 0.875rem;
        max-width: 46rem;
        flex: 1 1 20rem;
      }
      .points {
        display: grid;
        gap: 0.7rem;
        align-content: start;
      }
      rm-plot {
        --plot-height: 10rem;
        position: relative;
        margin-bottom: 0.6rem;
      }
      .words {
        display: grid;
        gap: 0.9rem;
        align-content: start;
      }
      h4 {
        margin: 0;
        font-size: 1rem;
        font-weight: 650;
      }
      .words li {
        margin-top: 0.35rem;
      }
      .faults {
        list-style: disc;
        padding-inline-start: 1.1rem;
      }
    `,
  ];

  protected override render(): TemplateResult {
    const { title, kind, points } = this.block;
    const caution = CAUTIONS[kind];
    const charted = points.filter(({ id }) => this.tracks.of(id).atMs.length > 0);
    return html`<section class="part" aria-labelledby="part">
      <div class="top">
        <h3 id="part">${title}</h3>
        ${caution === undefined ? nothing : html`<p class="caution">${caution}</p>`}
        <button class="button" @click=${() => this.#close()}>Close ${title.toLowerCase()}</button>
      </div>
      ${points.length === 0 ? nothing : html`<div class="points">${points.map((point) => this.#point(point))}</div>`}
      ${charted.length === 0 ? nothing : html`<div>${charted.map((point) => this.#plot(point))}</div>`}
      <div class="words">${this.#advice()} ${this.#suspects()} ${this.#faults()}</div>
    </section>`;
  }

  #point(point: SupplyBlock['points'][number]): TemplateResult {
    return html`<rm-point
      .point=${point}
      .nowMs=${this.session?.nowMs ?? 0}
      ?live=${this.live}
      ?chosen=${this.chosen.has(point.id)}
      ?simulated=${this.simulated}
    ></rm-point>`;
  }

  #plot(point: SupplyBlock['points'][number]): TemplateResult {
    const band = formatRange(point.low, point.high, pointStyle(point));
    const standing = standingWords(point, standingOf(point, this.live));
    return html`<p class="small quiet number">${point.label}, predicted ${band}</p>
      <rm-plot
        .point=${point}
        .columns=${this.tracks.of(point.id)}
        .timeline=${this.timeline}
        .marks=${marksOf(this.marks, point)}
        ?live=${this.live}
        .description=${`Small chart of ${point.label}, ${this.timeline.words}: ${standing}, predicted ${band}.`}
      ></rm-plot>`;
  }

  #advice(): TemplateResult {
    const { advice } = this.block;
    if (advice.length === 0) return html`<p>No advice about this part.</p>`;
    return html`<div>
      <h4>Advice before power</h4>
      <ul>
        ${advice.map(
          ({ severity, sentence, cure }) =>
            html`<li class="number">
              <b>${SEVERITY_WORDS[severity]}.</b> ${keepUnits(sentence)} ${keepUnits(cure)}
            </li>`,
        )}
      </ul>
    </div>`;
  }

  #suspects(): TemplateResult | typeof nothing {
    const mine = this.suspicion?.suspects.filter(({ about }) => about === this.block.part) ?? [];
    if (mine.length === 0) return nothing;
    return html`<div>
      <h4>${this.live ? 'Suspects here' : 'Suspects here, as last heard'}</h4>
      <ul>
        ${mine.map(
          ({ title, probability, action }) =>
            html`<li class="number"><b>${percentWords(probability)} ${title}.</b> ${action}</li>`,
        )}
      </ul>
    </div>`;
  }

  #faults(): TemplateResult | typeof nothing {
    const { faults } = this.block;
    if (faults.length === 0) return nothing;
    return html`<details>
      <summary>${faults.length} faults of this part that the readings are weighed against</summary>
      <ul class="faults small">
        ${faults.map(({ title }) => html`<li>${title}</li>`)}
      </ul>
    </details>`;
  }

  #close(): void {
    tell(this, 'rm-part', this.block.part);
  }
}

customElements.define('rm-part', RmPart);
