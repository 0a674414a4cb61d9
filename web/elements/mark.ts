import { css, svg, type CSSResult, type SVGTemplateResult } from 'lit';
import type { Standing } from '../point-standing.js';

/** Each standing has its own shape, so that colour is never needed. Drawn in a box of 16 x 16. */
const SHAPES: Readonly<Record<Standing, SVGTemplateResult>> = {
  inside: svg`<circle cx="8" cy="8" r="6" />`,
  doubtful: svg`<path d="M8 1.2 14.8 8 8 14.8 1.2 8Z" /><path class="cut" d="M8 1.9V14.1L1.9 8Z" />`,
  outside: svg`<path d="M8 1.2 15.2 14.4H.8Z" />`,
  overload: svg`<path d="M8 .8 15 8H1Z" /><path d="M2 10.4H14V14.6H2Z" />`,
  unreadable: svg`<path d="M3.4 1 8 5.6 12.6 1 15 3.4 10.4 8 15 12.6 12.6 15 8 10.4 3.4 15 1 12.6 5.6 8 1 3.4Z" />`,
  stale: svg`<path class="hollow" d="M2.5 2.5H13.5V13.5H2.5Z" /><path class="stroke" d="M2.5 13.5 13.5 2.5" />`,
  waiting: svg`<circle class="hollow" cx="8" cy="8" r="5.6" /><circle class="dot" cx="8" cy="8" r="1.8" />`,
  'not-measured': svg`<circle class="hollow dashed" cx="8" cy="8" r="5.6" />`,
  'not-live': svg`<path class="hollow" d="M2.5 2.5H13.5V13.5H2.5Z" /><path class="stroke" d="M2.5 13.5 13.5 2.5" />`,
};

/** The shape of a standing. Always stands beside its word, so it's hidden from assistive technology. */
export function mark(standing: Standing): SVGTemplateResult {
  return svg`<svg class="mark ${standing}" viewBox="0 0 16 16" width="16" height="16" aria-hidden="true">
    ${SHAPES[standing]}
  </svg>`;
}

/** The same shape as a marker on a scale, its middle at `at` percent. */
export function scaleMarker(standing: Standing, at: number): SVGTemplateResult {
  return svg`<svg class="mark ${standing}" x="${at}%" y="50%" width="1" height="1" overflow="visible">
    <g transform="translate(-8 -8)">${SHAPES[standing]}</g>
  </svg>`;
}

export const markStyles: CSSResult = css`
  .mark {
    flex: none;
    overflow: visible;
    stroke: var(--ink);
    stroke-width: 1.1;
    fill: var(--idle);
  }
  .mark.inside {
    fill: var(--inside);
  }
  .mark.doubtful {
    fill: var(--doubtful);
  }
  .mark.outside,
  .mark.overload,
  .mark.unreadable {
    fill: var(--outside);
  }
  .mark .hollow {
    fill: var(--sheet);
    stroke-width: 1.8;
  }
  .mark .stroke {
    stroke-width: 1.8;
  }
  .mark .dashed {
    stroke: var(--quiet);
    stroke-dasharray: 2.2 2.2;
  }
  .mark .cut {
    fill: var(--sheet);
    stroke: none;
  }
  .mark .dot {
    fill: var(--ink);
    stroke: none;
  }
`;
