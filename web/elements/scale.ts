import { css, html, svg, type CSSResult, type TemplateResult } from 'lit';
import type { PointView } from '../../daemon/serve/messages.js';
import type { Standing } from '../point-standing.js';
import { scaleGeometry } from '../scale-geometry.js';
import { scaleMarker } from './mark.js';

/**
 * A small horizontal scale: the predicted band with its typical value, the limits near it, and the measured value
 * as the shape of its standing. The numbers stand beside it in words, so it's hidden from assistive technology.
 */
export function scale(point: PointView, standing: Standing): TemplateResult {
  const { low, typical, high, limits, value, beyond } = scaleGeometry(point);
  return html`<svg class="scale" width="100%" height="26" aria-hidden="true">
    <line class="axis" x1="0" x2="100%" y1="50%" y2="50%" />
    <rect class="band" x="${low}%" width="${Math.max(0.5, high - low)}%" y="6" height="14" rx="2" />
    <line class="typical" x1="${typical}%" x2="${typical}%" y1="6" y2="20" />
    ${limits.map(({ at, side }) => limitMark(at, side))}
    ${value === null ? null : scaleMarker(standing, value)}
    ${beyond === null || value === null ? null : beyondMark(value, beyond)}
  </svg>`;
}

function limitMark(at: number, side: 'high' | 'low'): unknown {
  const hook = side === 'high' ? 'M0 -12V12M0 -12H6M0 12H6' : 'M0 -12V12M0 -12H-6M0 12H-6';
  return svg`<svg x="${at}%" y="50%" width="1" height="1" overflow="visible"><path class="limit" d="${hook}" /></svg>`;
}

function beyondMark(at: number, beyond: 'below' | 'above'): unknown {
  const arrow = beyond === 'above' ? 'M11 0H19M15 -4 19 0 15 4' : 'M-11 0H-19M-15 -4 -19 0 -15 4';
  return svg`<svg x="${at}%" y="50%" width="1" height="1" overflow="visible"><path class="beyond" d="${arrow}" /></svg>`;
}

export const scaleStyles: CSSResult = css`
  .scale {
    display: block;
    overflow: visible;
  }
  .scale .axis {
    stroke: var(--edge);
    stroke-width: 2;
  }
  .scale .band {
    fill: var(--band);
    stroke: var(--band-edge);
  }
  .scale .typical {
    stroke: var(--band-edge);
    stroke-width: 2;
  }
  .scale .limit {
    fill: none;
    stroke: var(--outside);
    stroke-width: 2.5;
  }
  .scale .beyond {
    fill: none;
    stroke: var(--ink);
    stroke-width: 2;
  }
`;
