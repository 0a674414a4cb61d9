/** The report's own look: ruled like a drawing's title block, two inks, readable in black and white. */
export const STYLE = `
:root { --ink: #16201c; --soft: #56635d; --rule: #b9c3bd; --paper: #fff; --green: #1d5a43; --red: #a3251b; --amber: #8a5a00; --wash: #eef3f0; }
* { box-sizing: border-box; }
html { background: #e4e9e6; }
body { margin: 0 auto; max-width: 780px; padding: 34px 40px 46px; background: var(--paper); color: var(--ink); font: 13.5px/1.45 "Charter", "Bitstream Charter", "Georgia", "DejaVu Serif", serif; font-variant-numeric: tabular-nums; }
h1 { margin: 0; font-size: 25px; line-height: 1.15; letter-spacing: -0.01em; }
h2 { margin: 26px 0 8px; padding-top: 5px; border-top: 2.5px solid var(--green); font-size: 15.5px; break-after: avoid; }
p { margin: 6px 0; orphans: 3; widows: 3; }
code, .mono { font: 11px/1.4 "DejaVu Sans Mono", "Menlo", "Consolas", monospace; overflow-wrap: anywhere; }
.small, .small code { font-size: 11px; color: var(--soft); }
.legend { break-after: avoid; break-inside: avoid; }
.block { display: grid; grid-template-columns: repeat(6, 1fr); border: 1.5px solid var(--ink); }
.block > div { grid-column: span 2; padding: 6px 10px 7px; border: 0.5px solid var(--rule); min-width: 0; }
.block > .wide { grid-column: span 6; }
.block > .half { grid-column: span 3; }
.block dt, .key { color: var(--soft); font-size: 10.5px; letter-spacing: 0.02em; }
.block dl { margin: 0; }
.block dd { margin: 0; overflow-wrap: anywhere; }
.outcome { margin: 14px 0 4px; padding: 9px 14px; border-left: 7px solid var(--green); background: var(--wash); font-size: 15px; }
.outcome.outside { border-color: var(--red); background: #fbeeec; }
.outcome.doubtful { border-color: var(--amber); background: #fbf4e3; }
.caution { margin: 10px 0; padding: 8px 14px; border: 1.5px solid var(--ink); break-inside: avoid; }
table { width: 100%; border-collapse: collapse; font-size: 12px; line-height: 1.35; }
thead { display: table-header-group; }
th { padding: 3px 7px; border-bottom: 1.5px solid var(--ink); text-align: left; font-weight: 600; font-size: 11px; vertical-align: bottom; }
td { padding: 4px 7px; border-bottom: 0.5px solid var(--rule); vertical-align: top; }
th:first-child, td:first-child { padding-left: 0; }
th:last-child, td:last-child { padding-right: 0; }
tr, figure, .keep, table.short { break-inside: avoid; }
.number { text-align: right; white-space: nowrap; }
.nowrap { white-space: nowrap; }
.verdict { white-space: nowrap; font-weight: 600; }
.verdict.inside { color: var(--green); }
.verdict.outside { color: var(--red); }
.verdict.doubtful { color: var(--amber); }
.verdict.none { color: var(--soft); font-weight: 400; }
figure { margin: 10px 0 4px; }
figure img { max-width: 100%; max-height: 110mm; display: block; }
figcaption { font-size: 12px; }
svg { display: block; width: 100%; height: auto; }
svg text { font: 10.5px "Charter", "Bitstream Charter", "Georgia", "DejaVu Serif", serif; fill: var(--ink); }
svg .grid { stroke: var(--rule); stroke-width: 0.5; fill: none; }
svg .band { fill: url(#hatch); stroke: var(--green); stroke-width: 0.5; }
svg .limit { stroke: var(--red); stroke-width: 1.2; stroke-dasharray: 6 4; fill: none; }
svg .limit-words { fill: var(--red); }
svg .said { fill: none; stroke: var(--ink); stroke-width: 1.2; }
svg .on { stroke: var(--soft); stroke-width: 0.8; stroke-dasharray: 1.5 2.5; }
svg .spread { fill: #16201c; opacity: 0.2; }
svg .line { stroke: var(--ink); stroke-width: 1.5; fill: none; stroke-linejoin: round; }
svg .wave { fill: var(--ink); stroke: var(--ink); stroke-width: 0.9; stroke-linejoin: round; }
.pairs { display: grid; grid-template-columns: 1fr 1fr; gap: 4px 20px; }
svg .box { fill: var(--paper); stroke: var(--ink); stroke-width: 1; }
svg .box.outside { stroke: var(--red); stroke-width: 2.2; }
svg .wire { stroke: var(--ink); stroke-width: 1; fill: none; }
svg .title { font-weight: 600; font-size: 12px; }
svg .value { font-weight: 600; }
svg .value .inside { fill: var(--green); }
svg .value .doubtful { fill: var(--amber); }
svg .value .outside { fill: var(--red); }
.hidden { position: absolute; width: 0; height: 0; }
.sign { display: grid; grid-template-columns: 2fr 2fr 1fr; gap: 22px; margin-top: 40px; break-inside: avoid; }
.sign div { border-top: 1px solid var(--ink); padding-top: 3px; font-size: 11px; color: var(--soft); }
@page { margin: 15mm 14mm 17mm; }
@media print {
  html { background: none; }
  body { max-width: none; padding: 0; font-size: 9.5pt; line-height: 1.38; print-color-adjust: exact; -webkit-print-color-adjust: exact; }
  h1 { font-size: 17pt; }
  h2 { margin-top: 16px; }
  table { font-size: 8.5pt; }
  .outcome { font-size: 10.5pt; }
  .block > div { padding: 3px 9px 4px; }
  .outcome, .caution { padding: 5px 12px; }
  .sign { margin-top: 30px; break-before: avoid; }
}
`;
