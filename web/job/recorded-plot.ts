import { LitElement, css, html, unsafeCSS, type CSSResultGroup, type TemplateResult } from 'lit';
import uPlot from 'uplot';
import plotSheet from 'uplot/dist/uPlot.min.css?inline';
import type { BandView, MarkView } from '../../daemon/serve/job-views.js';
import type { PointView } from '../../daemon/serve/messages.js';
import { chartColours } from '../chart/colours.js';
import { LOOK_CHANGED } from '../look.js';
import { sharedStyles } from '../theme.js';
import { curveColumns } from './curve-columns.js';
import { recordedOptions, type RecordedLine } from './plot-options.js';
import type { Span } from './span.js';

const SCHEMES = ['(prefers-color-scheme: dark)', '(forced-colors: active)'];
/** A shorter pull is a press. */
const PULL_PX = 8;

/**
 * What was recorded of one test point. A pull across it asks for that stretch (`rm-span`), a press for that moment
 * (`rm-moment`, ms); keys do the same through the buttons of whoever shows it.
 */
export class RmRecordedPlot extends LitElement {
  static override properties = {
    point: { attribute: false },
    lines: { attribute: false },
    bands: { attribute: false },
    marks: { attribute: false },
    span: { attribute: false },
    atMs: { attribute: false },
    description: { attribute: false },
  };
  declare point: PointView;
  declare lines: readonly RecordedLine[];
  declare bands: readonly BandView[];
  declare marks: readonly MarkView[];
  declare span: Span;
  declare atMs: number | null;
  declare description: string;

  static override styles: CSSResultGroup = [
    sharedStyles,
    unsafeCSS(plotSheet),
    css`
      .frame {
        position: relative;
        height: var(--plot-height, 12rem);
        overflow: hidden;
        cursor: crosshair;
        touch-action: pan-y;
        user-select: none;
      }
      .u-select {
        background: color-mix(in srgb, var(--accent) 22%, transparent);
        border-inline: 2px solid var(--accent);
      }
    `,
  ];

  #chart: uPlot | null = null;
  #pull: { readonly pointer: number; readonly fromPx: number } | null = null;
  #sizes = new ResizeObserver(() => this.#resize());
  #schemes = SCHEMES.map((query) => window.matchMedia(query));
  #rebuild = (): void => {
    this.#drop();
    this.requestUpdate();
  };

  constructor() {
    super();
    this.bands = [];
    this.marks = [];
    this.atMs = null;
  }

  override connectedCallback(): void {
    super.connectedCallback();
    for (const scheme of this.#schemes) scheme.addEventListener('change', this.#rebuild);
    window.addEventListener(LOOK_CHANGED, this.#rebuild);
    this.requestUpdate();
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    for (const scheme of this.#schemes) scheme.removeEventListener('change', this.#rebuild);
    window.removeEventListener(LOOK_CHANGED, this.#rebuild);
    this.#sizes.disconnect();
    this.#drop();
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
    if (changed.has('point')) this.#drop();
    if (this.#chart === null) this.#build();
    else if (changed.has('lines') || changed.has('span')) this.#chart.setData(this.#data());
    else this.#chart.redraw(false);
  }

  #data(): uPlot.AlignedData {
    const tables = this.lines.map(({ curve }) => curveColumns(curve) as uPlot.AlignedData);
    return tables.length === 1 && tables[0] !== undefined ? tables[0] : uPlot.join(tables);
  }

  #frame(): HTMLElement | null {
    return this.renderRoot.querySelector('.frame');
  }

  #build(): void {
    const frame = this.#frame();
    if (frame === null) return;
    this.#sizes.observe(frame);
    if (frame.clientWidth === 0) return;
    const options = recordedOptions(() => ({ ...this.#scene(), atMs: this.atMs }), {
      colours: chartColours(this),
      before: getComputedStyle(this).getPropertyValue('--before').trim(),
      width: frame.clientWidth,
      height: frame.clientHeight,
    });
    this.#chart = new uPlot(options, this.#data(), frame);
  }

  #scene() {
    const { point, lines, bands, marks, span } = this;
    return { point, lines, bands, marks, span };
  }

  #resize(): void {
    const frame = this.#frame();
    if (frame === null || frame.clientWidth === 0) return;
    if (this.#chart === null) this.requestUpdate();
    else this.#chart.setSize({ width: frame.clientWidth, height: frame.clientHeight });
  }

  #drop(): void {
    this.#chart?.destroy();
    this.#chart = null;
  }

  #down(event: PointerEvent): void {
    if (event.button !== 0) return;
    this.#pull = { pointer: event.pointerId, fromPx: this.#plotPx(event) };
    this.#frame()?.setPointerCapture(event.pointerId);
  }

  #move(event: PointerEvent): void {
    if (this.#pull?.pointer !== event.pointerId || this.#chart === null) return;
    const [left, right] = this.#pulled(event);
    const height = this.#chart.bbox.height / uPlot.pxRatio;
    this.#chart.setSelect({ left, width: right - left, top: 0, height }, false);
  }

  #up(event: PointerEvent): void {
    if (this.#pull?.pointer !== event.pointerId || this.#chart === null) return;
    const [left, right] = this.#pulled(event);
    const chart = this.#chart;
    const msAt = (px: number): number => Math.round(chart.posToVal(px, 'x') * 1000);
    this.#letGo();
    if (right - left < PULL_PX) this.#tell('rm-moment', msAt(left));
    else this.#tell('rm-span', { fromMs: msAt(left), toMs: msAt(right) });
  }

  #letGo(): void {
    this.#pull = null;
    this.#chart?.setSelect({ left: 0, width: 0, top: 0, height: 0 }, false);
  }

  #pulled(event: PointerEvent): readonly [left: number, right: number] {
    const [a, b] = [this.#pull?.fromPx ?? 0, this.#plotPx(event)];
    return [Math.min(a, b), Math.max(a, b)];
  }

  /** From the left edge of the plotted area, inside of it. */
  #plotPx(event: PointerEvent): number {
    const over = this.#chart?.over.getBoundingClientRect();
    return over === undefined ? 0 : Math.min(over.width, Math.max(0, event.clientX - over.left));
  }

  #tell(name: string, detail: unknown): void {
    this.dispatchEvent(new CustomEvent(name, { detail, bubbles: true, composed: true }));
  }
}

customElements.define('rm-recorded-plot', RmRecordedPlot);
