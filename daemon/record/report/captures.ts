import { valueWords } from '../../watch/value-words.js';
import type { CapturePicture } from '../capture/picture.js';
import type { SessionHistory } from '../session/history.js';
import { spanWords } from '../session/time-of-day.js';
import { html, NOTHING, type Markup } from './html.js';
import { roundedPlace, scaleFor, type Scale } from './scale.js';

const WIDTH = 330;
const HEIGHT = 150;
const PLOT = { left: 44, right: WIDTH - 12, top: 14, bottom: HEIGHT - 22 };

const TIME_UNITS = [
  { symbol: 's', seconds: 1 },
  { symbol: 'ms', seconds: 1e-3 },
  { symbol: 'µs', seconds: 1e-6 },
  { symbol: 'ns', seconds: 1e-9 },
] as const;

/** The sampled waveforms, two beside each other. */
export function captureFigures({ captures, captureCount, header }: SessionHistory): Markup {
  if (captures.length === 0) return NOTHING;
  const left = captureCount - captures.length;
  return html`<section>
    <h2>Captures</h2>
    <div class="pairs">
      ${captures.map((one) => figure(one, header.plan.prediction.points[one.point ?? '']?.label))}
    </div>
    <p class="small">
      Lowest and highest sample of each column; time from the trigger.
      ${left === 0 ? NOTHING : `${left} more captures are in the recording.`}
    </p>
  </section>`;
}

function figure(capture: CapturePicture, label: string | undefined): Markup {
  const { atMs, point, instrument, channel, low, high, mean, unit, coupling } = capture;
  const name = label ?? point ?? `${instrument} ${channel}`;
  const words = `${valueWords(high - low, unit)} peak to peak${coupling === 'dc' ? `, mean ${valueWords(mean, unit)}` : ''}`;
  return html`<figure>
    <figcaption>
      <b>${spanWords(atMs)} ${name}</b><br />${words}<br /><span class="small"
        >${instrument} ${channel}, ${couplingWords(coupling)}, ${capture.samples} samples</span
      >
    </figcaption>
    <svg viewBox="0 0 ${WIDTH} ${HEIGHT}" role="img" aria-label="${`${name}: ${words}`}">
      ${drawing(capture)}
    </svg>
  </figure>`;
}

function couplingWords(coupling: CapturePicture['coupling']): string {
  if (coupling === 'unknown') return 'coupling not stated';
  return coupling === 'ground' ? 'input grounded: measures nothing' : `${coupling.toUpperCase()} coupled`;
}

function drawing({
  lows,
  highs,
  low,
  high,
  unit,
  startSeconds,
  stepSeconds,
  samples,
}: CapturePicture): Markup {
  const lengthSeconds = stepSeconds * samples;
  const time = TIME_UNITS.find(({ seconds }) => lengthSeconds >= 2 * seconds) ?? TIME_UNITS[3];
  const range = [startSeconds / time.seconds, (startSeconds + lengthSeconds) / time.seconds] as const;
  const x = scaleFor(range, [PLOT.left, PLOT.right], 5);
  const y = scaleFor([low, high], [PLOT.bottom, PLOT.top], 5);
  const columnAt = (i: number): number => x.at(range[0] + ((i + 0.5) / lows.length) * (range[1] - range[0]));
  const there = highs.map((value, i) => `${roundedPlace(columnAt(i))} ${roundedPlace(y.at(value))}`);
  const back = lows.map((value, i) => `${roundedPlace(columnAt(i))} ${roundedPlace(y.at(value))}`).reverse();
  return html`${axes(x, y)}
    <text x="${PLOT.left}" y="9">${unit}</text>
    <text x="${PLOT.right}" y="${HEIGHT - 4}" text-anchor="end">${time.symbol}</text>
    <path class="wave" d="M${[...there, ...back].join('L')}Z" />`;
}

function axes(x: Scale, y: Scale): Markup {
  return html`${y.ticks.map(
    (tick) =>
      html`<path class="grid" d="M${PLOT.left} ${roundedPlace(y.at(tick))}H${PLOT.right}" /><text
          x="${PLOT.left - 5}"
          y="${roundedPlace(y.at(tick) + 3.5)}"
          text-anchor="end"
          >${tick}</text
        >`,
  )}
  ${x.ticks
    .slice(0, -1)
    .map(
      (tick) =>
        html`<path class="grid" d="M${roundedPlace(x.at(tick))} ${PLOT.top}V${PLOT.bottom}" /><text
            x="${roundedPlace(x.at(tick))}"
            y="${PLOT.bottom + 13}"
            text-anchor="middle"
            >${tick}</text
          >`,
    )}`;
}
