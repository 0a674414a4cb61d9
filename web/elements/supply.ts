import { LitElement, css, html, nothing, type CSSResultGroup, type TemplateResult } from 'lit';
import { repeat } from 'lit/directives/repeat.js';
import type { PointView, SessionView, SupplyView } from '../../daemon/serve/messages.js';
import { formatDuration, formatNumber, formatRange, pointStyle } from '../format.js';
import { goingWords } from '../going-words.js';
import {
  STANDING_WORDS,
  standingOf,
  standingWords,
  worstStanding,
  type Standing,
} from '../point-standing.js';
import { quantityWords } from '../quantity-words.js';
import { supplyBlocks, type SupplyBlock } from '../supply-blocks.js';
import { placesOf } from '../supply-places.js';
import { sharedStyles } from '../theme.js';
import { wirePath, type Box } from '../wires.js';
import { mark, markStyles } from './mark.js';
import { scale, scaleStyles } from './scale.js';
import { tell } from '../tell.js';

/** A block narrower than this can't be read, in rem. */
const NARROWEST_REM = 14.5;
const MOST_COLUMNS = 6;

/**
 * The supply from the mains to the loads as its design joins it: a block for every part, wires between them. A press
 * on a block opens or closes it (`rm-part`); what belongs to the open one stands in the slot beneath its row.
 */
export class RmSupply extends LitElement {
  static override properties = {
    supply: { attribute: false },
    points: { attribute: false },
    session: { attribute: false },
    live: { type: Boolean },
    open: { attribute: false },
    columns: { state: true },
  };
  declare supply: SupplyView;
  declare points: readonly PointView[];
  declare session: SessionView | null;
  declare live: boolean;
  /** The part that is open; null for none. */
  declare open: string | null;
  declare columns: number;

  static override styles: CSSResultGroup = [
    sharedStyles,
    markStyles,
    scaleStyles,
    css`
      .frame {
        position: relative;
      }
      .map {
        display: grid;
        align-items: start;
        gap: 1.9rem;
        margin-top: 0.9rem;
        padding-inline-start: 1.4rem;
      }
      .wires {
        position: absolute;
        inset: 0;
        width: 100%;
        height: 100%;
        overflow: visible;
        pointer-events: none;
      }
      .wires path {
        fill: none;
        stroke: var(--wire);
        stroke-width: 3;
        stroke-linejoin: round;
      }
      .frame.old .wires path {
        stroke-dasharray: 4 6;
      }
      .block {
        position: relative;
        min-width: 0;
        padding: 0.55rem 0.8rem 0.7rem;
        border: 1px solid var(--control-edge);
        border-radius: 0.6rem;
        background: var(--sheet);
      }
      .block.outside,
      .block.overload,
      .block.unreadable {
        border: 3px solid var(--outside);
        padding: calc(0.55rem - 2px) calc(0.8rem - 2px) calc(0.7rem - 2px);
      }
      .block.doubtful,
      .block.stale {
        border: 2px dashed var(--ink);
        padding: calc(0.55rem - 1px) calc(0.8rem - 1px) calc(0.7rem - 1px);
      }
      .block.around {
        border-style: dotted;
      }
      .block:hover {
        background: color-mix(in oklab, var(--sheet) 60%, var(--wash));
      }
      .block.open {
        box-shadow: inset 0 -0.3rem 0 var(--accent);
      }
      .head {
        display: flex;
        flex-wrap: wrap;
        align-items: baseline;
        justify-content: space-between;
        gap: 0 0.6rem;
      }
      .name {
        padding: 0;
        min-height: 1.6rem;
        border: 0;
        background: none;
        font-size: 1.0625rem;
        font-weight: 650;
        text-align: start;
        cursor: pointer;
      }
      .name::after {
        content: '';
        position: absolute;
        inset: 0;
        border-radius: inherit;
      }
      .name:focus-visible {
        outline: none;
      }
      .block:has(:focus-visible) {
        outline: 3px solid var(--accent);
        outline-offset: 2px;
      }
      .verdict {
        display: inline-flex;
        align-items: center;
        gap: 0.35rem;
        font-weight: 600;
      }
      .lines {
        margin-top: 0.35rem;
        display: grid;
        gap: 0.3rem;
      }
      .lines > li {
        padding-top: 0.3rem;
        border-top: 1px solid var(--edge);
      }
      .value {
        font-size: 1.5rem;
        font-weight: 600;
        line-height: 1.2;
        letter-spacing: -0.015em;
      }
      .unit {
        font-size: 1rem;
        font-weight: 500;
        color: var(--quiet);
      }
      .old-value {
        color: var(--quiet);
        text-decoration: line-through 2px;
      }
      .going {
        font-weight: 600;
      }
      .hint {
        margin-top: 0.3rem;
      }
      .load::before {
        content: '';
        display: inline-block;
        margin-inline-end: 0.45rem;
        border: 0.35rem solid transparent;
        border-inline-start: 0.55rem solid var(--wire);
        border-inline-end: 0;
        vertical-align: -0.05em;
        forced-color-adjust: none;
      }
      slot {
        display: block;
        position: relative;
        min-width: 0;
      }
      @media (forced-colors: active) {
        .block.open {
          border-bottom-width: 0.4rem;
        }
      }
      @media print {
        .block {
          break-inside: avoid;
        }
      }
    `,
  ];

  #sizes = new ResizeObserver(() => this.#fit());

  constructor() {
    super();
    this.columns = 4;
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.#sizes.disconnect();
  }

  override connectedCallback(): void {
    super.connectedCallback();
    this.#sizes.observe(this);
  }

  protected override render(): TemplateResult {
    const blocks = supplyBlocks(this.supply, this.points);
    return html`<h2 id="title">From mains to load</h2>
      ${
        blocks.length === 0
          ? html`<p class="quiet">The parts of the supply stand here, each with what it should read.</p>`
          : html`<div class="frame ${this.live ? '' : 'old'}">
              <svg class="wires" aria-hidden="true"><path /></svg>
              <ol class="map" aria-labelledby="title">
                ${repeat(
                  blocks,
                  ({ part }) => part,
                  (block) => this.#block(block),
                )}
              </ol>
            </div>`
      }`;
  }

  protected override updated(): void {
    this.#place();
  }

  #block(block: SupplyBlock): TemplateResult {
    const worst = worstStanding(block.points.map((point) => standingOf(point, this.live)));
    const isOpen = this.open === block.part;
    const fed = this.#titleOf(block.from);
    return html`<li class="block ${worst} ${block.kind} ${isOpen ? 'open' : ''}" data-part=${block.part}>
        <div class="head">
          <button
            class="name"
            aria-expanded=${isOpen}
            aria-describedby="about-${block.part}"
            @click=${() => this.#choose(block.part)}
          >
            ${block.title}
          </button>
          ${
            block.points.length === 0
              ? nothing
              : html`<span class="verdict">${mark(worst)} ${STANDING_WORDS[worst]}</span>`
          }
        </div>
        <div id="about-${block.part}">
          <p class="small quiet">
            ${block.detail}${fed && html`<span class="for-ears">, fed by ${fed}</span>`}
          </p>
          ${this.#lines(block)} ${this.#hints(block)}
        </div>
      </li>
      ${isOpen ? html`<li class="opened"><slot></slot></li>` : nothing}`;
  }

  #lines({ points }: SupplyBlock): TemplateResult | typeof nothing {
    if (points.length === 0) return nothing;
    const measured = points.filter(({ measuredBy }) => measuredBy !== null);
    const others = points.filter(({ measuredBy }) => measuredBy === null);
    return html`<ul class="lines">
      ${measured.map((point) => this.#line(point, standingOf(point, this.live)))}
      ${
        others.length === 0
          ? nothing
          : html`<li class="small quiet number">
              ${others.map(
                (point, i) =>
                  html`${i === 0 ? 'predicted ' : ', '}${quantityWords(point)}
                  ${formatRange(point.low, point.high, pointStyle(point))}`,
              )}
            </li>`
      }
    </ul>`;
  }

  #line(point: PointView, standing: Standing): TemplateResult {
    const style = pointStyle(point);
    const { value, low, high } = point;
    const isOld = standing === 'stale' || standing === 'not-live';
    const going = isOld ? null : goingWords(point);
    return html`<li class="number">
      <div class="head">
        <span
          ><span class="value ${isOld && value !== null ? 'old-value' : ''}"
            >${value === null ? '—' : formatNumber(value, style)}</span
          >
          <span class="unit">${style.unitText}</span></span
        >
        <span class="verdict small"
          >${mark(standing)} ${standingWords(point, standing)}${this.#age(point, standing)}</span
        >
      </div>
      ${scale(point, standing)}
      <p class="small quiet">${quantityWords(point)}, predicted ${formatRange(low, high, style)}</p>
      ${going === null ? nothing : html`<p class="small going">${going}</p>`}
    </li>`;
  }

  #age({ atMs }: PointView, standing: Standing): string {
    return standing === 'stale' && atMs !== null
      ? ` for ${formatDuration((this.session?.nowMs ?? atMs) - atMs)}`
      : '';
  }

  /** What stands behind the block, in so many words that it is worth opening. */
  #hints({ kind, part, advice }: SupplyBlock): TemplateResult | typeof nothing {
    const serious = advice.filter(({ severity }) => severity === 'destroys' || severity === 'misbehaves');
    const isLast = !this.supply.blocks.some(({ from }) => from === part);
    const load = kind === 'rail' && isLast && this.session ? `${this.session.load} load` : null;
    if (serious.length === 0 && load === null) return nothing;
    return html`<p class="hint small head">
      ${load === null ? nothing : html`<span class="load quiet">${load}</span>`}
      ${serious.length === 0 ? nothing : html`<b>${serious.length} to mend before power</b>`}
    </p>`;
  }

  #titleOf(part: string | null): string {
    return part === null ? '' : part.replaceAll('-', ' ');
  }

  #fit(): void {
    const rem = parseFloat(getComputedStyle(document.documentElement).fontSize);
    const fit = Math.floor((this.clientWidth / rem + 1.9 - 1.4) / (NARROWEST_REM + 1.9));
    this.columns = Math.max(1, Math.min(MOST_COLUMNS, fit));
    this.#drawWires();
  }

  /** Through the style objects: the content security policy refuses style attributes. */
  #place(): void {
    const map = this.renderRoot.querySelector<HTMLElement>('.map');
    if (!map) return;
    const blocks = supplyBlocks(this.supply, this.points);
    map.style.gridTemplateColumns = `repeat(${this.columns}, minmax(0, 1fr))`;
    const places = placesOf(blocks, this.columns);
    const openRow = places.get(this.open ?? '')?.row ?? Infinity;
    for (const element of map.querySelectorAll<HTMLElement>('.block')) {
      const { column, row } = places.get(element.dataset['part'] ?? '') ?? { column: 0, row: 0 };
      element.style.gridArea = `${row + 1 + (row > openRow ? 1 : 0)} / ${column + 1}`;
    }
    const opened = map.querySelector<HTMLElement>('.opened');
    if (opened) opened.style.gridArea = `${openRow + 2} / 1 / auto / -1`;
    this.#drawWires();
  }

  #drawWires(): void {
    const map = this.renderRoot.querySelector<HTMLElement>('.map');
    if (!map) return;
    const origin = map.getBoundingClientRect();
    const boxes = new Map<string, Box>();
    for (const element of map.querySelectorAll<HTMLElement>('.block')) {
      const { left, top, width, height } = element.getBoundingClientRect();
      boxes.set(element.dataset['part'] ?? '', {
        left: left - origin.left,
        top: top - origin.top,
        width,
        height,
      });
    }
    const feeding = [...new Set(this.supply.blocks.map(({ from }) => from))];
    const wires = this.supply.blocks.map(({ part, from }) => {
      const [start, end] = [boxes.get(from ?? ''), boxes.get(part)];
      const alone = this.supply.blocks.filter((one) => one.from === from).length === 1;
      // Few feed more than one, and wires of one feeding block lie on one another.
      if (!start || !end) return '';
      const row = [...boxes.values()].filter(({ top }) => Math.abs(top - start.top) < 1);
      const rowBottom = Math.max(...row.map(({ top, height }) => top + height));
      return wirePath(start, end, { alone, lane: feeding.indexOf(from) % 3, rowBottom });
    });
    this.renderRoot.querySelector('.wires path')?.setAttribute('d', wires.join(''));
  }

  #choose(detail: string): void {
    tell(this, 'rm-part', detail);
  }
}

customElements.define('rm-supply', RmSupply);
