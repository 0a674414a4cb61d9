import { css, html, type CSSResultGroup, type TemplateResult } from 'lit';
import uPlot from 'uplot';
import type { BandView, MarkView } from '../../daemon/serve/job-views.js';
import { PlotElement } from '../chart/plot-element.js';
import type { PlotLook } from '../chart/plot-options.js';
import type { Span } from '../chart/span.js';
import { tell } from '../tell.js';
import { alignedColumns } from './curve-columns.js';
import { recordedOptions, type RecordedLine } from './recorded-options.js';

/** A shorter pull is a press. */
const PULL_PX = 8;

/**
 * What was recorded of one test point. A pull across it asks for that stretch (`rm-span`), a press for that moment
 * (`rm-moment`, ms); keys do the same through the buttons of whoever shows it.
 */
export class RmRecordedPlot extends PlotElement {
  static override properties = {
    point: { attribute: false },
    lines: { attribute: false },
    bands: { attribute: false },
    marks: { attribute: false },
    span: { attribute: false },
    atMs: { attribute: false },
    description: { attribute: false },
  };
  declare lines: readonly RecordedLine[];
  declare bands: readonly BandView[];
  declare marks: readonly MarkView[];
  declare span: Span;
  declare atMs: number | null;

  static override styles: CSSResultGroup = [
    PlotElement.styles,
    css`
      .frame {
        cursor: crosshair;
        user-select: none;
      }
      .u-select {
        background: color-mix(in srgb, var(--accent) 22%, transparent);
        border-inline: 2px solid var(--accent);
      }
    `,
  ];

  #pull: { readonly pointer: number; readonly fromPx: number } | null = null;

  constructor() {
    super();
    this.bands = [];
    this.marks = [];
    this.atMs = null;
  }

  protected override render(): TemplateResult {
    return html`<div
      class="frame"
      role="img"
      aria-label=${this.description}
      @pointerdown=${(event: PointerEvent) => this.#down(event)}
      @pointermove=${(event: PointerEvent) => this.#move(event)}
      @pointerup=${(event: PointerEvent) => this.#up(event)}
      @pointercancel=${() => this.#letGo()}
    ></div>`;
  }

  protected override updated(changed: ReadonlyMap<PropertyKey, unknown>): void {
    if (changed.has('point')) this.drop();
    if (this.chart === null) this.build();
    else if (changed.has('lines') || changed.has('span')) this.chart.setData(this.data());
    else this.chart.redraw(false);
  }

  protected override data(): uPlot.AlignedData {
    return alignedColumns(this.lines.map(({ curve }) => curve));
  }

  protected override options(look: PlotLook): uPlot.Options {
    const before = getComputedStyle(this).getPropertyValue('--before').trim();
    return recordedOptions({ ...look, before }, () => this);
  }

  #down(event: PointerEvent): void {
    if (event.button !== 0) return;
    this.#pull = { pointer: event.pointerId, fromPx: this.#plotPx(event) };
    this.frame?.setPointerCapture(event.pointerId);
  }

  #move(event: PointerEvent): void {
    if (this.#pull?.pointer !== event.pointerId || this.chart === null) return;
    const [left, right] = this.#pulled(event);
    const height = this.chart.bbox.height / uPlot.pxRatio;
    this.chart.setSelect({ left, width: right - left, top: 0, height }, false);
  }

  #up(event: PointerEvent): void {
    if (this.#pull?.pointer !== event.pointerId || this.chart === null) return;
    const [left, right] = this.#pulled(event);
    const chart = this.chart;
    const msAt = (px: number): number => Math.round(chart.posToVal(px, 'x') * 1000);
    this.#letGo();
    if (right - left < PULL_PX) tell(this, 'rm-moment', msAt(left));
    else tell(this, 'rm-span', { fromMs: msAt(left), toMs: msAt(right) });
  }

  #letGo(): void {
    this.#pull = null;
    this.chart?.setSelect({ left: 0, width: 0, top: 0, height: 0 }, false);
  }

  #pulled(event: PointerEvent): readonly [left: number, right: number] {
    const [a, b] = [this.#pull?.fromPx ?? 0, this.#plotPx(event)];
    return [Math.min(a, b), Math.max(a, b)];
  }

  /** From the left edge of the plotted area, inside of it. */
  #plotPx(event: PointerEvent): number {
    const over = this.chart?.over.getBoundingClientRect();
    return over === undefined ? 0 : Math.min(over.width, Math.max(0, event.clientX - over.left));
  }
}

customElements.define('rm-recorded-plot', RmRecordedPlot);
