import { css, html, type CSSResult, type TemplateResult } from 'lit';
import type { HeardView, ReadingView } from '../../daemon/serve/instrument-messages.js';

/** The units as they are written beside a number. */
const UNITS: Readonly<Record<string, string>> = {
  V: 'V',
  Vrms: 'V rms',
  Vpp: 'V p-p',
  A: 'A',
  Arms: 'A rms',
  ohm: 'Ω',
  degC: '°C',
  Hz: 'Hz',
  W: 'W',
};
const SHOWN_LINES = 12;

/** Lines as they came beside what was read from each, the newest first. */
export function heardLines(lines: readonly HeardView[], caption: string): TemplateResult {
  if (lines.length === 0) return html`<p class="quiet small">No line so far.</p>`;
  return html`<div class="heard" tabindex="0" role="region" aria-label=${caption}>
    <table>
      <caption class="for-ears">
        ${caption}
      </caption>
      <thead>
        <tr>
          <th scope="col">As it came, newest first</th>
          <th scope="col">Read from it</th>
        </tr>
      </thead>
      <tbody>
        ${lines
          .slice(-SHOWN_LINES)
          .reverse()
          .map(
            ({ text, readings }) =>
              html`<tr>
                <td><code>${text}</code></td>
                <td class="number">
                  ${
                    readings.length === 0
                      ? html`<span class="quiet">nothing</span>`
                      : html`<ul>
                          ${readings.map((reading) => html`<li>${readingWords(reading)}</li>`)}
                        </ul>`
                  }
                </td>
              </tr>`,
          )}
      </tbody>
    </table>
  </div>`;
}

function readingWords({ channel, value, unit, mark }: ReadingView): TemplateResult {
  const said = value === null ? (mark ?? 'no number') : `${shortened(value)} ${UNITS[unit] ?? unit}`;
  return html`<span class="quiet">${channel}</span> <strong>${said}</strong>`;
}

/** As many digits as were sent, without what binary fractions add. */
function shortened(value: number): string {
  return String(Number(value.toPrecision(9))).replace('-', '\u2212');
}

export const heardStyles: CSSResult = css`
  .heard {
    margin-top: 0.5rem;
    max-height: 24rem;
    overflow: auto;
    border: 1px solid var(--edge);
    border-radius: 0.5rem;
  }
  .heard table {
    width: 100%;
    border-collapse: collapse;
    font-size: 0.9375rem;
  }
  .heard th,
  .heard td {
    padding: 0.25rem 0.7rem;
    text-align: start;
    vertical-align: top;
  }
  .heard th {
    font-weight: 600;
    color: var(--quiet);
  }
  .heard td {
    border-top: 1px solid var(--edge);
  }
  .heard code {
    font-size: 0.875rem;
    overflow-wrap: anywhere;
  }
`;
