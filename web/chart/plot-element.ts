import { LitElement, css, unsafeCSS, type CSSResultGroup } from 'lit';
import uPlot from 'uplot';
import plotSheet from 'uplot/dist/uPlot.min.css?inline';
import type { PointView } from '../../daemon/serve/messages.js';
import { LOOK_CHANGED } from '../look.js';
import { sharedStyles } from '../theme.js';
import { chartColours } from './colours.js';
import type { PlotLook } from './plot-options.js';

const SCHEMES = ['(prefers-color-scheme: dark)', '(forced-colors: active)'];

/** A chart of one test point in a `.frame`: made once there is room for it, anew when the page looks different. */
export abstract class PlotElement extends LitElement {
  declare point: PointView;
  /** What the chart shows, in words. */
  declare description: string;

  static override styles: CSSResultGroup = [
    sharedStyles,
    unsafeCSS(plotSheet),
    css`
      .frame {
        position: relative;
        height: var(--plot-height, 12rem);
        overflow: hidden;
        touch-action: pan-y;
      }
    `,
  ];

  protected chart: uPlot | null = null;
  readonly #sizes = new ResizeObserver(() => this.#resize());
  readonly #schemes = SCHEMES.map((query) => window.matchMedia(query));
  readonly #rebuild = (): void => {
    this.drop();
    this.requestUpdate();
  };

  protected abstract options(look: PlotLook): uPlot.Options;
  protected abstract data(): uPlot.AlignedData;

  protected get frame(): HTMLElement | null {
    return this.renderRoot.querySelector('.frame');
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
    this.drop();
  }

  protected build(): void {
    const { frame } = this;
    if (frame === null) return;
    this.#sizes.observe(frame);
    const { clientWidth: width, clientHeight: height } = frame;
    if (width === 0) return;
    const options = this.options({ point: this.point, colours: chartColours(this), width, height });
    this.chart = new uPlot(options, this.data(), frame);
  }

  protected drop(): void {
    this.chart?.destroy();
    this.chart = null;
  }

  #resize(): void {
    const { frame } = this;
    if (frame === null || frame.clientWidth === 0) return;
    if (this.chart === null) this.requestUpdate();
    else this.chart.setSize({ width: frame.clientWidth, height: frame.clientHeight });
  }
}
