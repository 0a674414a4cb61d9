import { LitElement, css, html, nothing, type CSSResultGroup, type TemplateResult } from 'lit';
import type { PointView, SessionView } from '../../daemon/serve/messages.js';
import { STANDING_WORDS, standingOf, worstStanding } from '../point-standing.js';
import { supplyLine, type SupplyBlock } from '../supply-order.js';
import { sharedStyles } from '../theme.js';
import { mark, markStyles } from './mark.js';
import './point.js';

/** Words under a block where a person might put a hand. */
const CAUTIONS: Readonly<Record<string, string>> = {
  transformer:
    'Mains side. Mains kills: pull the plug before you touch it, follow your local code, and leave the ' +
    'mains wiring to a licensed person where it asks for one.',
  reservoir: 'Stays charged after switch-off. Measure before you touch.',
};

/** The supply as a line from the mains to the loads: a stop for every part, a branch for every rail. */
export class RmSupply extends LitElement {
  static override properties = {
    points: { attribute: false },
    session: { attribute: false },
    live: { type: Boolean },
    chosen: { attribute: false },
    simulated: { type: Boolean },
  };
  declare points: readonly PointView[];
  declare session: SessionView | null;
  declare live: boolean;
  declare chosen: ReadonlySet<string>;
  declare simulated: boolean;

  static override styles: CSSResultGroup = [
    sharedStyles,
    markStyles,
    css`
      :host {
        container-type: inline-size;
        --stop: 1.75rem;
        --gap: 1.6rem;
      }
      .line {
        margin-top: 0.9rem;
        display: grid;
        gap: var(--gap);
      }
      .feed,
      .rails,
      .around-line {
        display: grid;
        gap: var(--gap);
        align-content: start;
        min-width: 0;
      }
      .block {
        position: relative;
        min-width: 0;
        padding-inline-start: 2.6rem;
      }
      .head {
        display: flex;
        flex-wrap: wrap;
        align-items: center;
        gap: 0.1rem 0.75rem;
        min-height: var(--stop);
        margin-bottom: 0.5rem;
      }
      .stop {
        position: absolute;
        inset-inline-start: 0;
        top: 0;
        z-index: 1;
        width: var(--stop);
        height: var(--stop);
        display: grid;
        place-items: center;
        border: 3px solid var(--wire);
        border-radius: 50%;
        background: var(--sheet);
      }
      .stop .mark {
        width: 0.9rem;
        height: 0.9rem;
      }
      /* The wire to the next stop. */
      .on-line::before {
        content: '';
        position: absolute;
        inset-inline-start: calc(var(--stop) / 2 - 1.5px);
        top: calc(var(--stop) / 2);
        bottom: calc(-1 * var(--gap) - var(--stop) / 2);
        border-inline-start: 3px solid var(--wire);
      }
      .rails .block:last-child::before {
        display: none;
      }
      .load {
        color: var(--quiet);
        font-size: 0.875rem;
      }
      .load::before {
        content: '';
        display: inline-block;
        margin-inline-end: 0.5rem;
        border: 0.4rem solid transparent;
        border-inline-start: 0.6rem solid var(--wire);
        border-inline-end: 0;
        vertical-align: -0.1em;
        forced-color-adjust: none;
      }
      .points {
        display: grid;
        grid-template-columns: repeat(auto-fit, minmax(min(100%, 13.5rem), 1fr));
        gap: 0.7rem;
      }
      .unmeasured {
        display: grid;
        grid-template-columns: repeat(auto-fill, minmax(min(100%, 23rem), 1fr));
        column-gap: 2rem;
        margin-top: 0.6rem;
      }
      .points:empty {
        display: none;
      }
      .caution {
        margin-top: 0.6rem;
        padding-inline-start: 0.7rem;
        border-inline-start: 3px solid var(--doubtful);
        font-size: 0.875rem;
        max-width: 34rem;
      }
      .around .stop {
        border-style: dashed;
        border-width: 2px;
      }
      .head::after {
        display: none;
        content: '';
        flex: 1;
        height: 3px;
        background: var(--wire);
      }
      .rail .head::after {
        display: block;
        order: 1;
        flex: 0 1 5rem;
      }
      .rail .load {
        order: 2;
        margin-inline-start: -0.75rem;
      }
      @container (min-width: 64rem) {
        .line {
          grid-template: 'feed rails' auto 'around rails' 1fr / minmax(30rem, 2fr) 3fr;
          column-gap: 2rem;
        }
        .feed {
          grid-area: feed;
          grid-auto-flow: column;
          grid-auto-columns: minmax(0, 1fr);
          column-gap: 2rem;
        }
        .rails {
          grid-area: rails;
        }
        .around-line {
          grid-area: around;
        }
        /* Along the feeding parts, then down to the rails. */
        .feed .on-line::before {
          display: none;
        }
        .feed .head::after {
          display: block;
          margin-inline-end: -2rem;
        }
        .feed .block,
        .around-line .block {
          padding-inline-start: 0;
        }
        .feed .head,
        .around-line .head {
          padding-inline-start: 2.4rem;
        }
      }
      @media print {
        .block {
          break-inside: avoid-page;
        }
      }
    `,
  ];

  protected override render(): TemplateResult {
    const { feed, rails, around } = supplyLine(this.points);
    return html`<h2 id="title">From mains to load</h2>
      ${
        this.points.length === 0
          ? html`<p class="quiet">The parts of the supply stand here, each with what it should read.</p>`
          : html`<div class="line">
              <div class="feed">${feed.map((block) => this.#block(block, 'on-line'))}</div>
              <div class="rails">${rails.map((block) => this.#block(block, 'on-line rail'))}</div>
              <div class="around-line">${around.map((block) => this.#block(block, 'around'))}</div>
            </div>`
      }`;
  }

  #block(block: SupplyBlock, kind: string): TemplateResult {
    const worst = worstStanding(block.points.map((point) => standingOf(point, this.live)));
    const measured = block.points.filter((point) => point.measuredBy !== null);
    const unmeasured = block.points.filter((point) => point.measuredBy === null);
    const caution = CAUTIONS[block.part];
    return html`<section class="block ${kind}" aria-labelledby="part-${block.part}">
      <div class="head">
        <span class="stop">${mark(worst)}<span class="for-ears">${STANDING_WORDS[worst]}</span></span>
        <h3 id="part-${block.part}">${block.title}</h3>
        ${
          kind.includes('rail') && this.session
            ? html`<span class="load">${this.session.load} load</span>`
            : nothing
        }
      </div>
      <div class="points">${measured.map((point) => this.#point(point))}</div>
      ${
        unmeasured.length > 0
          ? html`<div class="unmeasured">${unmeasured.map((point) => this.#point(point))}</div>`
          : nothing
      }
      ${caution ? html`<p class="caution">${caution}</p>` : nothing}
    </section>`;
  }

  #point(point: PointView): TemplateResult {
    return html`<rm-point
      .point=${point}
      .nowMs=${this.session?.nowMs ?? 0}
      ?live=${this.live}
      ?chosen=${this.chosen.has(point.id)}
      ?simulated=${this.simulated}
    ></rm-point>`;
  }
}

customElements.define('rm-supply', RmSupply);
