import { LitElement, css, html, nothing, svg, type CSSResultGroup, type TemplateResult } from 'lit';
import type { CaptureView, PointView, SupplyView } from '../../daemon/serve/messages.js';
import { formatDuration, formatQuantity, formatRange, numberStyle, sentenceCase } from '../format.js';
import { noRippleWords, restSentence, rippleBars, rippleDoubts, rippleSentence } from '../ripple-words.js';
import { sharedStyles } from '../theme.js';
import { WAVE_HEIGHT, WAVE_WIDTH, waveGeometry } from '../wave-geometry.js';

const COUPLING_WORDS: Readonly<Record<CaptureView['coupling'], string>> = {
  dc: 'DC coupled',
  ac: 'AC coupled: its mean is lost',
  ground: 'input grounded',
  unknown: 'coupling not stated',
};

/** The newest waveform of each point over its predicted ripple, and what it is made of. */
export class RmCaptures extends LitElement {
  static override properties = {
    captures: { attribute: false },
    points: { attribute: false },
    supply: { attribute: false },
    nowMs: { attribute: false },
    live: { type: Boolean },
  };
  declare captures: readonly CaptureView[];
  declare points: readonly PointView[];
  declare supply: SupplyView;
  declare nowMs: number;
  declare live: boolean;

  static override styles: CSSResultGroup = [
    sharedStyles,
    css`
      .all {
        display: grid;
        grid-template-columns: repeat(auto-fit, minmax(min(100%, 32rem), 1fr));
        gap: 1.2rem;
        margin-top: 0.9rem;
      }
      figure {
        min-width: 0;
        padding: 0.8rem 1rem;
        border: 1px solid var(--edge);
        border-radius: 0.6rem;
        background: var(--sheet);
      }
      .old svg {
        opacity: 0.45;
      }
      .head {
        display: flex;
        flex-wrap: wrap;
        justify-content: space-between;
        gap: 0 1rem;
      }
      .wave {
        display: block;
        width: 100%;
        height: 11rem;
        margin: 0.5rem 0 0.2rem;
      }
      .most {
        fill: var(--band);
        stroke: var(--band-edge);
        vector-effect: non-scaling-stroke;
      }
      .least {
        fill: none;
        stroke: var(--band-edge);
        stroke-dasharray: 2 6;
        vector-effect: non-scaling-stroke;
      }
      .period {
        stroke: var(--quiet);
        stroke-dasharray: 3 4;
        vector-effect: non-scaling-stroke;
      }
      .samples {
        fill: var(--measured);
        stroke: var(--measured);
        stroke-width: 1.6;
        stroke-linejoin: round;
        vector-effect: non-scaling-stroke;
      }
      .bars {
        display: grid;
        grid-template-columns: auto auto minmax(3rem, 8rem) minmax(0, 1fr);
        align-items: center;
        gap: 0.2rem 0.7rem;
        margin-top: 0.6rem;
      }
      .bars li {
        display: contents;
      }
      .bars svg {
        display: block;
        width: 100%;
        height: 0.9rem;
      }
      .bars rect {
        fill: var(--measured);
      }
      @media (max-width: 30rem) {
        .bars {
          grid-template-columns: auto auto minmax(3rem, 1fr);
        }
        .bars .means {
          grid-column: 1 / -1;
          margin-bottom: 0.4rem;
        }
      }
      p + p {
        margin-top: 0.2rem;
      }
      @media print {
        figure {
          break-inside: avoid;
        }
      }
    `,
  ];

  protected override render(): TemplateResult | typeof nothing {
    if (this.captures.length === 0) return nothing;
    return html`<h2>Captured waveforms</h2>
      <div class="all ${this.live ? '' : 'old'}">
        ${this.captures.map((capture) => this.#figure(capture))}
      </div>`;
  }

  #figure(capture: CaptureView): TemplateResult {
    const point = this.points.find(({ id }) => id === capture.point);
    const part = capture.point.split('.', 1)[0];
    // The ripple of the same place, when the probe sits on its volts.
    const predicted = this.points.find(({ id }) => id === `${part}.ripple`);
    const { ripple } = capture;
    const sentence =
      ripple === null
        ? 'Not looked for ripple.'
        : ripple.kind === 'found'
          ? rippleSentence(ripple, predicted)
          : noRippleWords(ripple);
    return html`<figure>
      <figcaption class="head">
        <h3>${sentenceCase(point?.label ?? capture.point)}</h3>
        <span class="small quiet number">${this.#origin(capture)}</span>
      </figcaption>
      ${this.#wave(capture, predicted, sentence)}
      <p class="number"><b>${sentence}</b></p>
      ${
        ripple?.kind !== 'found'
          ? nothing
          : html`<p class="small number">${restSentence(ripple)}</p>
              ${rippleDoubts(ripple).map((words) => html`<p class="small">${words}</p>`)}
              ${this.#bars(ripple)}`
      }
    </figure>`;
  }

  #origin({ measuredBy, coupling, atMs }: CaptureView): string {
    const age = this.live ? `${formatDuration(this.nowMs - atMs)} ago` : 'as last heard';
    return `${measuredBy}, ${COUPLING_WORDS[coupling]}, ${age}`;
  }

  #wave(capture: CaptureView, predicted: PointView | undefined, sentence: string): TemplateResult {
    const { wave, periods, predicted: bands, top, bottom } = waveGeometry(capture, predicted ?? null);
    const style = numberStyle(capture.unit, Math.max(Math.abs(top), Math.abs(bottom)));
    const range = formatRange(bottom, top, style);
    const length = `${(capture.lengthSeconds * 1000).toPrecision(3)}\u00a0ms`;
    return html`<svg
        class="wave"
        viewBox="0 0 ${WAVE_WIDTH} ${WAVE_HEIGHT}"
        preserveAspectRatio="none"
        role="img"
        aria-label="Waveform of ${length} from ${range}. ${sentence}"
      >
        ${
          bands === null
            ? nothing
            : svg`<rect class="most" x="0" width=${WAVE_WIDTH} y=${bands.most.top} height=${bands.most.height} />
                <rect class="least" x="0" width=${WAVE_WIDTH} y=${bands.least.top} height=${bands.least.height} />`
        }
        ${periods.map((x) => svg`<line class="period" x1=${x} x2=${x} y1="0" y2=${WAVE_HEIGHT} />`)}
        <path class="samples" d=${wave} />
      </svg>
      <p class="small quiet number">
        ${length} wide, ${range}
        high.${periods.length > 0 ? ' Dotted: one mains period apart.' : ''}${
          bands === null ? '' : ' Shaded: the predicted ripple, at most; between the fine lines: at least.'
        }
      </p>`;
  }

  #bars(ripple: Parameters<typeof rippleBars>[0]): TemplateResult {
    return html`<ul class="bars small number" aria-label="The ripple by frequency">
      ${rippleBars(ripple, this.supply.rectifier).map(
        ({ title, volts, share, words }) =>
          html`<li>
            <b>${title}</b>
            <span>${formatQuantity(volts, numberStyle('V', volts))}</span>
            <svg viewBox="0 0 100 10" preserveAspectRatio="none" aria-hidden="true">
              <rect width=${Math.max(0.5, 100 * share)} height="10" />
            </svg>
            <span class="means">${words}</span>
          </li>`,
      )}
    </ul>`;
  }
}

customElements.define('rm-captures', RmCaptures);
