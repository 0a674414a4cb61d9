import { LitElement, css, html, unsafeCSS, type CSSResultGroup, type TemplateResult } from 'lit';
import uPlot from 'uplot';
import plotSheet from 'uplot/dist/uPlot.min.css?inline';
import type { MarkView, PointView } from '../../daemon/serve/messages.js';
import { formatQuantity, formatSessionTime, pointStyle } from '../format.js';
import { LOOK_CHANGED } from '../look.js';
import { sharedStyles } from '../theme.js';
import { chartColours } from './colours.js';
import { fanOf, type Fan } from './fan.js';
import { Gestures } from './gestures.js';
import { Levels } from './levels.js';
import { chartOptions, LINE_PIXELS } from './options.js';
import type { Timeline } from './timeline.js';
import type { Columns } from './track.js';
import { chartColumns } from './window.js';

const SCHEMES = ['(prefers-color-scheme: dark)', '(forced-colors: active)'];
/** Lowest and highest reading of so many CSS pixels. */
const PIXELS_A_COLUMN = 2;
const THIN_PIXELS = 1.2;
/** New readings move a curve at this pace; the axis, when it is moved, once a frame. */
const CALM_MS = 150;

/** The chart of one test point over the shared time axis. `description` says in words what it shows. */
export class RmPlot extends LitElement {
  static override properties = {
    point: { attribute: false },
    columns: { attribute: false },
    timeline: { attribute: false },
    marks: { attribute: false },
    live: { type: Boolean },
    description: { attribute: false },
    pointer: { state: true },
  };
  declare point: PointView;
  declare columns: Columns;
  declare timeline: Timeline;
  /** What happened at this point, or to all of them. */
  declare marks: readonly MarkView[];
  declare live: boolean;
  declare description: string;
  declare pointer: string;

  static override styles: CSSResultGroup = [
    sharedStyles,
    unsafeCSS(plotSheet),
    css`
      .frame {
        position: relative;
        height: var(--plot-height, 12rem);
        overflow: hidden;
        cursor: grab;
        touch-action: pan-y;
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

  #chart: uPlot | null = null;
  #charted: PointView | null = null;
  readonly #levels = new Levels();
  #fan: Fan | null = null;
  #frameAsked = 0;
  #calm: ReturnType<typeof setTimeout> | undefined;
  #leave: () => void = () => undefined;
  #sizes = new ResizeObserver(() => this.#resize());
  #schemes = SCHEMES.map((query) => window.matchMedia(query));
  #rebuild = (): void => {
    this.#drop();
    this.requestUpdate();
  };

  constructor() {
    super();
    this.pointer = '';
  }

  override connectedCallback(): void {
    super.connectedCallback();
    for (const scheme of this.#schemes) scheme.addEventListener('change', this.#rebuild);
    window.addEventListener(LOOK_CHANGED, this.#rebuild);
    this.#leave = this.timeline.onMove(() => this.#drawSoon());
    this.requestUpdate();
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    for (const scheme of this.#schemes) scheme.removeEventListener('change', this.#rebuild);
    window.removeEventListener(LOOK_CHANGED, this.#rebuild);
    this.#sizes.disconnect();
    this.#leave();
    cancelAnimationFrame(this.#frameAsked);
    this.#frameAsked = 0;
    clearTimeout(this.#calm);
    this.#calm = undefined;
    this.#drop();
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
    const frame = this.#frame();
    if (!frame) return;
    new Gestures(
      frame,
      () => this.timeline,
      () => this.#plotPlace(frame),
    );
  }

  protected override updated(): void {
    if (this.#charted && !samePrediction(this.#charted, this.point)) this.#drop();
    this.#fan = fanOf(this.point);
    if (this.#chart) this.#drawCalmly();
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
    if (!this.#chart) this.#build();
    if (!this.#chart) return;
    const { span } = this.timeline;
    const columns = Math.max(1, this.#chart.width / PIXELS_A_COLUMN);
    const { seconds, value } = chartColumns(this.#levels.for(this.columns, span, columns), span, columns);
    const line = this.#chart.series[1];
    // A thick line over thousands of zigzags is a smear, and takes long to draw.
    if (line) line.width = seconds.length > columns ? THIN_PIXELS : LINE_PIXELS;
    this.#chart.setData([seconds, value]);
  }

  #plotPlace(frame: HTMLElement): { left: number; width: number } {
    const { left, width } = frame.getBoundingClientRect();
    if (!this.#chart) return { left, width };
    const { bbox } = this.#chart;
    return { left: left + bbox.left / uPlot.pxRatio, width: bbox.width / uPlot.pxRatio };
  }

  #frame(): HTMLElement | null {
    return this.renderRoot.querySelector('.frame');
  }

  #build(): void {
    const frame = this.#frame();
    if (!frame || frame.clientWidth === 0) {
      if (frame) this.#sizes.observe(frame);
      return;
    }
    const options = chartOptions({
      point: this.point,
      colours: chartColours(this),
      width: frame.clientWidth,
      height: frame.clientHeight,
      timeline: () => this.timeline,
      fan: () => (this.live ? this.#fan : null),
      marks: () => this.marks,
      onPointer: (seconds, value) => this.#point(seconds, value),
    });
    this.#chart = new uPlot(options, [[], []], frame);
    this.#charted = this.point;
    this.#sizes.observe(frame);
  }

  #point(seconds: number | null, value: number | null): void {
    const words = value === null ? 'no reading' : formatQuantity(value, pointStyle(this.point));
    this.pointer = seconds === null ? '' : `${formatSessionTime(seconds * 1000)}: ${words}`;
  }

  #resize(): void {
    const frame = this.#frame();
    if (!frame || frame.clientWidth === 0) return;
    if (this.#chart) this.#chart.setSize({ width: frame.clientWidth, height: frame.clientHeight });
    else this.requestUpdate();
  }

  #drop(): void {
    this.#chart?.destroy();
    this.#chart = null;
    this.#charted = null;
  }
}

function samePrediction(a: PointView, b: PointView): boolean {
  return (
    a.id === b.id && a.low === b.low && a.typical === b.typical && a.high === b.high && a.limits === b.limits
  );
}

customElements.define('rm-plot', RmPlot);
