import { css, html, type CSSResult, type TemplateResult } from 'lit';

/** Round with a bar: don't. The general prohibition sign's shape, ISO 7010 P001. */
const BARRED = html`<svg class="sign barred" viewBox="0 0 20 20" width="22" height="22" aria-hidden="true">
  <circle cx="10" cy="10" r="8" />
  <path d="M4.4 4.4 15.6 15.6" />
</svg>`;

/** Three corners: mind. The general warning sign's shape, ISO 7010 W001. */
const CORNERED = html`<svg class="sign" viewBox="0 0 20 20" width="20" height="20" aria-hidden="true">
  <path d="M10 2 19 18H1Z" />
  <path d="M10 8v4.4M10 14.4v1.6" />
</svg>`;

/** What the hand must mind, beside what it does. */
export function caution(words: string | null): TemplateResult | string {
  return words === null
    ? ''
    : html`<p class="caution small">
        ${CORNERED}<span><b>Caution.</b> ${words}</span>
      </p>`;
}

/** What must stay off, in red, in words, and with a shape. */
export function notYet(things: readonly string[]): TemplateResult | string {
  if (things.length === 0) return '';
  return html`<div class="not-yet">
    ${BARRED}
    <div>
      <h3>Do not connect yet</h3>
      <ul>
        ${things.map((thing) => html`<li>${thing}</li>`)}
      </ul>
    </div>
  </div>`;
}

export const signStyles: CSSResult = css`
  .sign {
    flex: none;
    fill: none;
    stroke: currentColor;
    stroke-width: 2;
    stroke-linejoin: round;
  }
  .barred {
    stroke-width: 3;
  }
  .caution,
  .not-yet {
    display: flex;
    gap: 0.5rem;
    align-items: start;
  }
  .not-yet {
    gap: 0.8rem;
    padding: 0.7rem 1rem;
    border: 2px solid;
    border-radius: 0.5rem;
    color: var(--forbidden);
    font-weight: 650;
  }
`;
