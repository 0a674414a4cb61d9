import type { Limit } from '../../predict/prediction.js';
import { rangeWords, valueWords } from '../../watch/value-words.js';
import { html, NOTHING, type Markup } from './html.js';
import { lengthClass } from './length-class.js';
import { extremesWords, type Standing } from './standing.js';
import { verdictMark } from './verdict-mark.js';

/** Predicted against measured, and below it what nobody measured. */
export function pointsTable(standings: readonly Standing[]): Markup {
  const measured = standings.filter(({ measured: found }) => found !== null);
  const unmeasured = standings.filter(({ measured: found }) => found === null);
  return html`<section>
    <h2>Predicted and measured</h2>
    ${
      measured.length === 0
        ? html`<p>No test point was measured in this session.</p>`
        : html`<table class="${lengthClass(measured)}">
            <thead>
              <tr>
                <th scope="col">test point</th>
                <th scope="col" class="number">predicted</th>
                <th scope="col" class="number">measured</th>
                <th scope="col">lowest to highest</th>
                <th scope="col">limit</th>
                <th scope="col">verdict</th>
              </tr>
            </thead>
            <tbody>
              ${measured.map(row)}
            </tbody>
          </table>`
    }
    <p class="small">
      Predicted: low to high covers 95 % of supplies built from this design, typical below it. Measured: mean
      of the last half minute with the supply on, ± the meter’s uncertainty (k = 2, about 95 %). The
      percentage is the probability that the true value lies in the predicted band (JCGM 106:2012). The
      verdict counts the whole session. A temperature that is warming up is as predicted.
    </p>
    ${
      unmeasured.length === 0
        ? NOTHING
        : html`<p class="small">
            Not measured, so not judged: ${unmeasured.map(({ prediction }) => prediction.id).join(', ')}.
          </p>`
    }
  </section>`;
}

function row(standing: Standing): Markup {
  const { prediction, measured, uncertainty, probability, verdict, remark } = standing;
  const { id, label, unit, low, typical, high } = prediction;
  const settled = measured?.settled ?? null;
  return html`<tr>
    <td>${label}<br /><code class="nowrap">${id}</code></td>
    <td class="number">
      ${rangeWords(low, high, unit)}<br /><span class="small">${valueWords(typical, unit)}</span>
    </td>
    <td class="number">
      ${settled === null ? 'never while on' : html`<b>${valueWords(settled.mean, unit)}</b>`}<br /><span
        class="small"
        >${uncertaintyWords(standing)}</span
      >
    </td>
    <td>${extremesWords(standing)}</td>
    <td>${limitWords(standing)}</td>
    <td>
      ${verdictMark(verdict)}${
        uncertainty === null || probability === null
          ? NOTHING
          : html` <span class="small">${percentWords(probability)}</span>`
      }
      ${remark === '' ? NOTHING : html`<br /><span class="small">${remark}</span>`}
    </td>
  </tr>`;
}

function uncertaintyWords({ uncertainty, measured, prediction: { unit } }: Standing): string {
  if (measured?.settled == null) return '';
  if (uncertainty === null) return 'accuracy not stated';
  // A temperature is shown in whole degrees; its uncertainty is a difference, and often below one.
  return unit === 'degC' ? `± ${uncertainty.toFixed(1)} K` : `± ${valueWords(uncertainty, unit)}`;
}

function limitWords({ prediction: { limits, unit } }: Standing): Markup {
  const words = tightest(limits).map(({ side, value, kind }) => {
    const bound = side === 'high' ? 'at most' : 'at least';
    return html`<span class="nowrap">${bound} ${valueWords(value, unit)}</span
      >${kind === 'damage' ? ' (damage)' : ''}<br />`;
  });
  return words.length === 0 ? NOTHING : html`${words}`;
}

/** The highest low limit and the lowest high one: the others are never reached first. */
function tightest(limits: readonly Limit[]): Limit[] {
  const lows = limits.filter(({ side }) => side === 'low').sort((a, b) => b.value - a.value);
  const highs = limits.filter(({ side }) => side === 'high').sort((a, b) => a.value - b.value);
  return [...lows.slice(0, 1), ...highs.slice(0, 1)];
}

function percentWords(share: number): string {
  const percent = share * 100;
  if (percent > 99.5) return '> 99 %';
  return percent < 0.5 ? '< 1 %' : `${percent.toFixed(0)} %`;
}
