import { valueWords } from '../../watch/value-words.js';
import type { EarlyForecast, SessionHistory } from '../session/history.js';
import type { Bucket } from '../session/decimator.js';
import { spanWords } from '../session/time-of-day.js';
import { html, NOTHING, type Markup } from './html.js';
import { roundedPlace, scaleFor, timeTicks, type Scale } from './scale.js';
import type { Standing } from './standing.js';

const WIDTH = 680;
const HEIGHT = 190;
const PLOT = { left: 46, right: WIDTH - 8, top: 12, bottom: HEIGHT - 24 };

/** The temperatures over time, each with the band in which it should settle and its limit. */
export function temperatureCurves(standings: readonly Standing[], history: SessionHistory): Markup {
  const warm = standings.filter(
    ({ prediction, measured }) => prediction.unit === 'degC' && (measured?.buckets.length ?? 0) > 0,
  );
  if (warm.length === 0) return NOTHING;
  return html`<section>
    <h2>Temperatures</h2>
    <p class="small legend">
      Line: measured mean of each stretch; grey around it: its lowest and highest. Hatched: where the design
      predicts it to settle. Dashed: its limit. The upright line is the moment at which the first volts were
      seen. The bracket: where its readings said within five minutes that it would settle (90 %).
    </p>
    ${warm.map((standing) => curve(standing, history))}
  </section>`;
}

function curve({ prediction, measured }: Standing, { lengthMs, powerOnAtMs }: SessionHistory): Markup {
  const buckets = measured?.buckets ?? [];
  const early = measured?.early ?? null;
  const { low, high, label, unit, id } = prediction;
  const limit = prediction.limits
    .filter(({ side }) => side === 'high')
    .reduce<number | null>((least, { value }) => Math.min(least ?? value, value), null);
  const highest = Math.max(...buckets.map((bucket) => bucket.high));
  const showsLimit = limit !== null && limit < Math.max(highest, high) * 1.6;
  const tops = [highest, high, early?.settled.typical ?? high, ...(showsLimit ? [limit] : [])];
  const lowest = Math.min(low, ...buckets.map((bucket) => bucket.low));
  const y = scaleFor([lowest, Math.max(...tops)], [PLOT.bottom, PLOT.top], 5);
  const x = (atMs: number): number => PLOT.left + (atMs / Math.max(lengthMs, 1)) * (PLOT.right - PLOT.left);
  const name = `${label}: measured between ${valueWords(lowestOf(buckets), unit)} and ${valueWords(highest, unit)}`;
  return html`<figure>
    <figcaption><b>${label}</b> <code>${id}</code></figcaption>
    <svg viewBox="0 0 ${WIDTH} ${HEIGHT}" role="img" aria-label="${name}">
      ${grid(y, x, lengthMs)} ${band(y, low, high)}
      ${limit !== null && showsLimit ? limitLine(y, limit, valueWords(limit, unit)) : NOTHING}
      ${powerOnAtMs === null ? NOTHING : html`<path class="on" d="M${roundedPlace(x(powerOnAtMs))} ${PLOT.top}V${PLOT.bottom}" />`}
      ${early === null ? NOTHING : earlyBracket(early, x, y)}
      <path class="spread" d="${spreadPath(buckets, x, y)}" />
      <path class="line" d="${meanPath(buckets, x, y)}" />
    </svg>
  </figure>`;
}

function grid(y: Scale, x: (atMs: number) => number, lengthMs: number): Markup {
  return html`${y.ticks.map(
      (tick) =>
        html`<path class="grid" d="M${PLOT.left} ${roundedPlace(y.at(tick))}H${PLOT.right}" /><text
            x="${PLOT.left - 6}"
            y="${roundedPlace(y.at(tick) + 3.5)}"
            text-anchor="end"
            >${tick}</text
          >`,
    )}
    ${timeTicks(lengthMs, 9).map(
      (atMs) =>
        html`<path class="grid" d="M${roundedPlace(x(atMs))} ${PLOT.bottom}v4" /><text
            x="${roundedPlace(x(atMs))}"
            y="${PLOT.bottom + 16}"
            text-anchor="${anchorAt(x(atMs))}"
            >${spanWords(atMs)}</text
          >`,
    )} <text x="${PLOT.left}" y="9">°C</text>`;
}

/** Drawn where it was said; cut off where it would leave the picture. */
function earlyBracket({ atMs, settled }: EarlyForecast, x: (atMs: number) => number, y: Scale): Markup {
  const within = (celsius: number): number => Math.min(PLOT.bottom, Math.max(PLOT.top, y.at(celsius)));
  const at = x(atMs);
  const [low, typical, high] = [within(settled.low), within(settled.typical), within(settled.high)];
  const bracket = `M${roundedPlace(at + 5)} ${roundedPlace(high)}H${roundedPlace(at)}V${roundedPlace(low)}H${roundedPlace(at + 5)}`;
  const words = `said at ${spanWords(atMs)}: ${valueWords(settled.typical, 'degC')}`;
  return html`<path class="said" d="${bracket}M${roundedPlace(at - 4)} ${roundedPlace(typical)}h12" /><text
      x="${roundedPlace(Math.min(at + 11, PLOT.right - 100))}"
      y="${roundedPlace(high + 3.5)}"
      >${words}</text
    >`;
}

/** So that a label stays on the paper. */
function anchorAt(x: number): string {
  if (x < PLOT.left + 20) return 'start';
  return x > PLOT.right - 20 ? 'end' : 'middle';
}

function band(y: Scale, low: number, high: number): Markup {
  const top = y.at(high);
  return html`<rect
    class="band"
    x="${PLOT.left}"
    y="${roundedPlace(top)}"
    width="${PLOT.right - PLOT.left}"
    height="${roundedPlace(Math.max(1, y.at(low) - top))}"
  />`;
}

function limitLine(y: Scale, limit: number, words: string): Markup {
  return html`<path class="limit" d="M${PLOT.left} ${roundedPlace(y.at(limit))}H${PLOT.right}" /><text
      class="limit-words"
      x="${PLOT.right}"
      y="${roundedPlace(y.at(limit) - 4)}"
      text-anchor="end"
      >limit ${words}</text
    >`;
}

/** A line that is broken where nothing was measured for longer than its neighbours are apart. */
function meanPath(buckets: readonly Bucket[], x: (atMs: number) => number, y: Scale): string {
  return runs(buckets)
    .map((run) =>
      run
        .map(
          (one, i) => `${i === 0 ? 'M' : 'L'}${roundedPlace(x(middle(one)))} ${roundedPlace(y.at(one.mean))}`,
        )
        .join(''),
    )
    .join('');
}

function spreadPath(buckets: readonly Bucket[], x: (atMs: number) => number, y: Scale): string {
  return runs(buckets)
    .map((run) => {
      const there = run.map((one) => `${roundedPlace(x(middle(one)))} ${roundedPlace(y.at(one.high))}`);
      const back = [...run]
        .reverse()
        .map((one) => `${roundedPlace(x(middle(one)))} ${roundedPlace(y.at(one.low))}`);
      return `M${[...there, ...back].join('L')}Z`;
    })
    .join('');
}

/** Gaps are never drawn over: five usual distances without a value part two runs. */
function runs(buckets: readonly Bucket[]): readonly (readonly Bucket[])[] {
  const steps = buckets.slice(1).map((one, i) => one.fromMs - (buckets[i]?.fromMs ?? 0));
  const usual = [...steps].sort((a, b) => a - b)[Math.floor(steps.length / 2)] ?? 0;
  const found: Bucket[][] = [];
  for (const bucket of buckets) {
    const last = found.at(-1)?.at(-1);
    if (last === undefined || bucket.fromMs - last.fromMs > 5 * usual) found.push([bucket]);
    else found.at(-1)?.push(bucket);
  }
  return found;
}

function middle({ fromMs, toMs }: Bucket): number {
  return (fromMs + toMs) / 2;
}

function lowestOf(buckets: readonly Bucket[]): number {
  return Math.min(...buckets.map(({ low }) => low));
}
