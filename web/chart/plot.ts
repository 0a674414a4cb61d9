import { css, html, type CSSResultGroup, type TemplateResult } from 'lit';
import uPlot from 'uplot';
import type { MarkView, PointView } from '../../daemon/serve/messages.js';
import { formatQuantity, formatSessionTime, pointStyle } from '../format.js';
import { fanOf, type Fan } from './fan.js';
import { Gestures } from './gestures.js';
import { Levels } from './levels.js';
import { chartOptions } from './options.js';
import { PlotElement } from './plot-element.js';
import { LINE_PIXELS, type PlotLook } from './plot-options.js';
import type { Timeline } from './timeline.js';
import type { Columns } from './track.js';
import { chartColumns } from './window.js';

/** Lowest and highest reading of so many CSS pixels. */
const PIXELS_A_COLUMN = 2;
const THIN_PIXELS = 1.2;
/** New readings move a curve at this pace; the axis, when it is moved, once a frame. */
const CALM_MS = 150;

/** The chart of one test point over the shared time axis. */
export class RmPlot extends PlotElement {
  static override properties = {
    point: { attribute: false },
    columns: { attribute: false },
    timeline: { attribute: false },
    marks: { attribute: false },
    live: { type: Boolean },
    description: { attribute: false },
    pointer: { state: true },
  };
  declare columns: Columns;
  declare timeline: Timeline;
  /** What happened at this point, or to all of them. */
  declare marks: readonly MarkView[];
  declare live: boolean;
  declare pointer: string;

  static override styles: CSSResultGroup = [
    PlotElement.styles,
    css`
      .frame {
        cursor: grab;
      }
      .frame:active {
        cursor: grabbing;
      }
      .frame.old {
        opacity: 0.45;
      }
      .u-cursor-x {
        border-color: var(--ink);
      }
      .pointer {
        position: absolute;
        z-index: 2;
        inset-block-start: 0.35rem;
        inset-inline-end: 0.8rem;
        padding: 0 0.4rem;
        border-radius: 0.3rem;
        background: var(--sheet);
        font-size: 0.875rem;
        pointer-events: none;
      }
      .pointer:empty {
        display: none;
      }
    `,
  ];

  #charted: PointView | null = null;
  readonly #levels = new Levels();
  #fan: Fan | null = null;
  #frameAsked = 0;
  #calm: ReturnType<typeof setTimeout> | undefined;
  #leave: () => void = () => undefined;

  constructor() {
    super();
    this.pointer = '';
  }

  override connectedCallback(): void {
    super.connectedCallback();
    this.#leave = this.timeline.onMove(() => this.#drawSoon());
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.#leave();
    cancelAnimationFrame(this.#frameAsked);
    this.#frameAsked = 0;
    clearTimeout(this.#calm);
    this.#calm = undefined;
  }

  protected override render(): TemplateResult {
    return html`<div
        class="frame ${this.live ? '' : 'old'}"
        role="img"
        tabindex="0"
        aria-label=${this.description}
      ></div>
      <p class="pointer number" aria-hidden="true">${this.pointer}</p>`;
  }

  protected override firstUpdated(): void {
    const { frame } = this;
    if (!frame) return;
    new Gestures(
      frame,
      () => this.timeline,
      () => this.#plotPlace(frame),
    );
  }

  protected override updated(): void {
    if (this.#charted && !samePrediction(this.#charted, this.point)) this.drop();
    this.#fan = fanOf(this.point);
    if (this.chart) this.#drawCalmly();
    else this.#drawSoon();
  }

  #drawCalmly(): void {
    this.#calm ??= setTimeout(() => {
      this.#calm = undefined;
      this.#drawSoon();
    }, CALM_MS);
  }

  /** Once a frame, however often the time axis moves in it. */
  #drawSoon(): void {
    this.#frameAsked ||= requestAnimationFrame(() => {
      this.#frameAsked = 0;
      this.#draw();
    });
  }

  #draw(): void {
    if (!this.chart) this.build();
    if (!this.chart) return;
    const { span } = this.timeline;
    const columns = Math.max(1, this.chart.width / PIXELS_A_COLUMN);
    const { seconds, value } = chartColumns(this.#levels.for(this.columns, span, columns), span, columns);
    const line = this.chart.series[1];
    // A thick line over thousands of zigzags is a smear, and takes long to draw.
    if (line) line.width = seconds.length > columns ? THIN_PIXELS : LINE_PIXELS;
    this.chart.setData([seconds, value]);
  }

  #plotPlace(frame: HTMLElement): { left: number; width: number } {
    const { left, width } = frame.getBoundingClientRect();
    if (!this.chart) return { left, width };
    const { bbox } = this.chart;
    return { left: left + bbox.left / uPlot.pxRatio, width: bbox.width / uPlot.pxRatio };
  }

  protected override options(look: PlotLook): uPlot.Options {
    this.#charted = this.point;
    return chartOptions(look, {
      timeline: () => this.timeline,
      fan: () => (this.live ? this.#fan : null),
      marks: () => this.marks,
      onPointer: (seconds, value) => this.#point(seconds, value),
    });
  }

  protected override data(): uPlot.AlignedData {
    return [[], []];
  }

  #point(seconds: number | null, value: number | null): void {
    const words = value === null ? 'no reading' : formatQuantity(value, pointStyle(this.point));
    this.pointer = seconds === null ? '' : `${formatSessionTime(seconds * 1000)}: ${words}`;
  }

  protected override drop(): void {
    super.drop();
    this.#charted = null;
  }
}

function samePrediction(a: PointView, b: PointView): boolean {
  return (
    a.id === b.id && a.low === b.low && a.typical === b.typical && a.high === b.high && a.limits === b.limits
  );
}

customElements.define('rm-plot', RmPlot);
