import type { Verdict } from '../../watch/effects.js';
import type { SessionHistory } from '../session/history.js';
import { spanWords, TimeOfDay } from '../session/time-of-day.js';
import { alarmsTable } from './alarms-table.js';
import { captureFigures } from './captures.js';
import { temperatureCurves } from './curves.js';
import { cutOffList } from './cut-off-list.js';
import { html, NOTHING, type Markup } from './html.js';
import { instrumentsTable, notesList, openAdvice } from './lists.js';
import { powerUpSection } from './power-up.js';
import { pointsTable } from './points-table.js';
import { standingsOf, type Standing } from './standing.js';
import { STYLE } from './style.js';
import { suspicionSection } from './suspicion.js';
import { supplyMap } from './supply-map.js';

export interface ReportFacts {
  readonly history: SessionHistory;
  /** What the design calls itself. */
  readonly title: string;
  /** Name and SHA-256 of each file of the recording. */
  readonly files: readonly { readonly name: string; readonly sha256: string }[];
  /** Name and version of the program that makes the report. */
  readonly software: string;
}

/** What a page takes at most. */
const MOST_BYTES = 1_000_000;
/** For what stands around a photo. */
const MARGIN_BYTES = 20_000;

/**
 * The job file's page of one session: one self-contained HTML document without scripts, for screen and paper, of at
 * most 1 MB. Photos for which there is no room are told instead.
 */
export function reportPage(facts: ReportFacts): string {
  const bare = Buffer.byteLength(pageWith(facts, 0));
  return pageWith(facts, Math.max(0, MOST_BYTES - MARGIN_BYTES - bare));
}

function pageWith(facts: ReportFacts, photoBytes: number): string {
  const { history, title } = facts;
  const standings = standingsOf(history);
  const body = html`<main>
    ${titleBlock(facts)} ${outcome(standings, history)} ${CAUTION} ${powerUpSection(history)}
    ${supplyMap(history.header.design.text, standings)} ${pointsTable(standings)}
    ${temperatureCurves(standings, history)} ${captureFigures(history)} ${alarmsTable(history)}
    ${cutOffList(history)} ${suspicionSection(history)} ${notesList(history, photoBytes)}
    ${openAdvice(history)} ${instrumentsTable(history)} ${computeAgain(facts)} ${SIGNATURES}
  </main>`;
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${html`Power-up record: ${title}`.text}</title>
<style>${STYLE}</style>
</head>
<body>
${HATCH.text}
${body.text}
</body>
</html>
`;
}

const HATCH = html`<svg class="hidden" aria-hidden="true">
  <defs>
    <pattern id="hatch" width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
      <rect width="6" height="6" fill="#e3efe8" />
      <path d="M0 0V6" stroke="#1d5a43" stroke-width="1" opacity="0.35" />
    </pattern>
  </defs>
</svg>`;

const CAUTION = html`<p class="caution">
  <b>Mains kills and hot parts burn.</b> This sheet records what instruments showed. It does not say that the
  supply is safe or may be connected: local codes and licensed people decide that. A reservoir stays charged
  after switching off: measure it before touching anything.
</p>`;

const SIGNATURES = html`<div class="sign">
  <div>carried out by</div>
  <div>checked by</div>
  <div>date</div>
</div>`;

function titleBlock({ history, title, files, software }: ReportFacts): Markup {
  const { header, lengthMs, readings } = history;
  const time = new TimeOfDay(header.startedAt);
  return html`<header class="block">
    <div class="wide">
      <span class="key">Power-up record of a low-voltage supply</span>
      <h1>${title}</h1>
    </div>
    ${cell('begun', `${time.words(0)} (UTC${time.iso(0).slice(-6)}, ${header.zone})`)}
    ${cell('lasted', `${spanWords(lengthMs)}, ${readings} readings`)}
    ${cell('predicted for', `${history.expected.load} load`)} ${cell('design', header.design.file)}
    ${cell('bench', header.bench.file)} ${cell('report by', software)}
    <div class="wide">
      <span class="key">recording and its SHA-256</span>
      ${files.map(({ name, sha256 }) => html`<div class="mono">${name} ${sha256}</div>`)}
    </div>
  </header>`;
}

function cell(key: string, value: string): Markup {
  return html`<div>
    <dl>
      <dt>${key}</dt>
      <dd>${value}</dd>
    </dl>
  </div>`;
}

function outcome(standings: readonly Standing[], history: SessionHistory): Markup {
  const named = (verdict: Verdict): string[] =>
    standings.filter((one) => one.verdict === verdict).map(({ prediction }) => prediction.id);
  const [outside, doubtful, inside] = [named('outside'), named('doubtful'), named('inside')];
  const worst = outside.length > 0 ? 'outside' : doubtful.length > 0 ? 'doubtful' : 'inside';
  const total = standings.length;
  const sentence =
    outside.length > 0
      ? `Outside its prediction or beyond a limit: ${outside.join(', ')}.`
      : inside.length + doubtful.length === 0
        ? 'Nothing was measured with the supply on, so nothing is judged.'
        : `Everything that was measured stayed inside its prediction and its limits${doubtful.length > 0 ? ', but within the meter’s uncertainty of an edge' : ''}.`;
  return html`<div class="outcome ${worst}">
    <b>${sentence}</b> ${inside.length} inside, ${doubtful.length} doubtful, ${outside.length} outside,
    ${total - inside.length - doubtful.length - outside.length} of ${total} test points not measured.
    ${trust(history)}
  </div>`;
}

/** What lowers the trust in the file itself. */
function trust({ problems, mismatches, header: { repairedFrom } }: SessionHistory): Markup {
  const sentences = [
    ...problems.slice(0, 5).map(({ why }) => why),
    ...(problems.length > 5 ? [`${problems.length - 5} more places are damaged.`] : []),
    ...(mismatches > 0 ? [`${mismatches} alarms came out otherwise than they did live.`] : []),
    ...(repairedFrom === undefined ? [] : [`This is a repaired copy of ${repairedFrom.file}.`]),
  ];
  return sentences.length === 0 ? NOTHING : html`<p><b>The recording:</b> ${sentences.join(' ')}</p>`;
}

function computeAgain({ history, software }: ReportFacts): Markup {
  const { header, mismatches } = history;
  const { seed, assumed } = header.plan.prediction;
  return html`<section>
    <h2>To compute it again</h2>
    <p>
      Recorded by ${header.software} (format ${header.version}), judged again by ${software}:
      ${mismatches === 0 ? 'every alarm came out as it did live' : `${mismatches} alarms came out otherwise`}.
      The prediction’s seed is ${seed}. The recording holds the design and the bench file as they stood.
    </p>
    ${
      assumed.length === 0
        ? NOTHING
        : html`<p class="small">
            The prediction assumed, since the design file does not say:
            ${assumed.map(({ key, value, because }) => `${key} ${value} (${because})`).join('; ')}.
          </p>`
    }
  </section>`;
}
