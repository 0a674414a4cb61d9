import { css, type CSSResult } from 'lit';

/** What every element of the page shares: box model, headings, buttons, focus, words for ears only. */
export const sharedStyles: CSSResult = css`
  :host {
    display: block;
  }
  :host([hidden]) {
    display: none;
  }
  *,
  *::before,
  *::after {
    box-sizing: border-box;
  }
  h1,
  h2,
  h3,
  p,
  ul,
  ol,
  dl,
  dd,
  figure {
    margin: 0;
    padding: 0;
  }
  ul,
  ol {
    list-style: none;
  }
  h2 {
    font-size: 1.15rem;
    font-weight: 650;
    letter-spacing: -0.005em;
  }
  h3 {
    font-size: 1rem;
    font-weight: 650;
  }
  .quiet {
    color: var(--quiet);
  }
  .small {
    font-size: 0.875rem;
  }
  .number {
    font-variant-numeric: tabular-nums;
  }
  .for-ears {
    position: absolute;
    width: 1px;
    height: 1px;
    overflow: hidden;
    clip-path: inset(50%);
    white-space: nowrap;
  }
  button,
  select,
  input {
    font: inherit;
    color: inherit;
  }
  .button,
  select,
  input[type='text'] {
    min-height: 2.5rem;
    padding: 0.35rem 0.9rem;
    border: 1px solid var(--control-edge);
    border-radius: 0.5rem;
    background: var(--sheet);
    max-width: 100%;
  }
  .button {
    cursor: pointer;
    font-weight: 600;
  }
  .button:hover:not(:disabled, .strong, [aria-pressed='true']) {
    background: var(--wash);
  }
  .button.strong {
    background: var(--accent);
    border-color: var(--accent);
    color: var(--on-accent);
  }
  .button.strong:hover:not(:disabled) {
    background: color-mix(in oklab, var(--accent) 88%, var(--ink));
  }
  .button:disabled {
    cursor: default;
    opacity: 0.65;
  }
  .button[aria-pressed='true'] {
    background: var(--ink);
    border-color: var(--ink);
    color: var(--paper);
  }
  :focus-visible {
    outline: 3px solid var(--accent);
    outline-offset: 2px;
  }
  kbd {
    font: inherit;
    font-size: 0.85em;
    padding: 0.05em 0.45em;
    border: 1px solid currentColor;
    border-radius: 0.3em;
  }
  @media (forced-colors: active) {
    .button.strong {
      background: ButtonFace;
      border-color: ButtonBorder;
      color: ButtonText;
    }
    .button[aria-pressed='true'] {
      forced-color-adjust: none;
      background: Highlight;
      color: HighlightText;
    }
  }
  @media print {
    .button,
    select,
    form,
    .screen-only {
      display: none !important;
    }
  }
`;
