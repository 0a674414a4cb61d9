import { LitElement, css, html, nothing, type CSSResultGroup, type TemplateResult } from 'lit';
import type { DesignPrediction, PredictedPoint } from '../../daemon/serve/design-messages.js';
import { mark, markStyles } from '../elements/mark.js';
import { formatLimit, formatNumber, keepUnits, pointStyle, sentenceCase } from '../format.js';
import { sharedStyles } from '../theme.js';

/** What every test point should read, low, typical and high, with the limits that it meets. */
export class RmDesignPoints extends LitElement {
  static override properties = { prediction: { attribute: false }, current: { type: Boolean } };
  declare prediction: DesignPrediction;
  declare current: boolean;

  static override styles: CSSResultGroup = [
    sharedStyles,
    markStyles,
    css`
      table {
        width: 100%;
        margin-top: 0.5rem;
        border-collapse: collapse;
        font-size: 0.9375rem;
      }
      th,
      td {
        padding: 0.3rem 0.5rem 0.3rem 0;
        border-bottom: 1px solid var(--edge);
        text-align: end;
        vertical-align: top;
      }
      th:first-child {
        text-align: start;
        font-weight: 500;
      }
      @media (max-width: 30rem) {
        tr {
          display: grid;
          grid-template-columns: repeat(4, 1fr);
        }
        th:first-child {
          grid-column: 1 / -1;
          border: 0;
        }
      }
      thead th {
        font-size: 0.875rem;
        color: var(--quiet);
      }
      .typical {
        font-weight: 650;
      }
      .met {
        display: block;
        font-size: 0.875rem;
        font-weight: 650;
      }
      .old {
        color: var(--quiet);
        font-style: italic;
      }
    `,
  ];

  protected override render(): TemplateResult {
    return html`<table class=${this.current ? '' : 'old'}>
      <thead>
        <tr>
          <th scope="col">At ${this.prediction.load} load</th>
          <th scope="col">low</th>
          <th scope="col">typical</th>
          <th scope="col">high</th>
          <th scope="col">unit</th>
        </tr>
      </thead>
      <tbody>
        ${this.prediction.points.map((point) => row(point))}
      </tbody>
    </table>`;
  }
}

function row(point: PredictedPoint): TemplateResult {
  const style = pointStyle(point);
  return html`<tr>
    <th scope="row">${sentenceCase(point.label)}${limitMet(point)}</th>
    <td class="number">${formatNumber(point.low, style)}</td>
    <td class="number typical">${formatNumber(point.typical, style)}</td>
    <td class="number">${formatNumber(point.high, style)}</td>
    <td>${style.unitText}</td>
  </tr>`;
}

/** The limit that is crossed, or that some of the supplies built like this would cross. */
function limitMet(point: PredictedPoint): TemplateResult | typeof nothing {
  const met = (value: (side: 'high' | 'low') => number) =>
    point.limits.find((limit) =>
      limit.side === 'high' ? value('high') >= limit.value : value('low') <= limit.value,
    );
  const beyond = met(() => point.typical);
  const limit = beyond ?? met((side) => point[side]);
  if (limit === undefined) return nothing;
  const words = beyond === undefined ? 'may reach' : 'beyond';
  return html`<span class="met"
    >${mark(beyond === undefined ? 'doubtful' : 'outside')} ${words}
    ${formatLimit(limit.value, pointStyle(point))}: ${keepUnits(limit.why)}</span
  >`;
}

customElements.define('rm-design-points', RmDesignPoints);
