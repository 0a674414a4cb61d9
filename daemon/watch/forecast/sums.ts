import { fastPart, shownAtS, type WarmingFit } from './fit.js';
import { curveOf, type Mix } from './grid.js';
import { LAST, STEPS } from './heating.js';

/** Longest history that is looked at. */
const MOST = 48;
const row = (): Float64Array => new Float64Array(MOST);
const WEIGHT = row();
const RISE = row();
const SHOWN = row();
const FAST = row();
/** Of the newest lag: sums of w, w·y, w·y², w·f, w·f², w·y·f. */
const common = new Float64Array(6);
/** Of one time constant: sums of w·x, w·d, w·x², w·x·d, w·d², w·x·f, w·d·f, w·x·y, w·d·y. */
const ofCurve = new Float64Array(9);

/** What a fit's blocks weigh. For the calls that follow. */
export function weigh(fit: WarmingFit, fastK: number): number {
  const { history, startC } = fit;
  const count = history.length;
  const fadingS = FADING_S + FADING_LAGS * Math.exp(fit.window.lag.middle);
  for (let at = 0; at < count; at += 1) {
    const { atS, celsius, variance, repeatedK2 } = history[at]!;
    const runs = repeatedK2 === 0 ? 0 : repeatedK2 * runOf(fit, at);
    const misfit = (FAST_MISFIT_K + FAST_SHARE * fastK) * Math.exp(-atS / fadingS);
    WEIGHT[at] = 1 / (variance + runs + MODEL_K * MODEL_K + misfit * misfit);
    RISE[at] = celsius - startC;
  }
  return count;
}

/** The curves aren't exact, whatever the probe resolves, K. */
const MODEL_K = 0.06;
/** The fast part is only roughly one exponential. */
const FAST_MISFIT_K = 0.25;
const FAST_SHARE = 0.05;
/** It is over after some of the probe's lags, s. */
const FADING_S = 2;
const FADING_LAGS = 1.5;
const LONGEST_RUN = 12;

/** How many blocks one count of the probe spans about this one: their error is one, not many. */
function runOf({ history, countK }: WarmingFit, at: number): number {
  const from = Math.max(0, at - 2);
  const to = Math.min(history.length - 1, at + 2);
  if (to === from) return 1;
  const step = Math.abs(history[to]!.celsius - history[from]!.celsius) / (to - from);
  return Math.max(1, Math.min(LONGEST_RUN, countK / Math.max(step, 1e-3)));
}

/** Sums that need the lag alone. */
export function sumsOfLag(fit: WarmingFit, count: number, lag: number): Float64Array {
  common.fill(0);
  for (let at = 0; at < count; at += 1) {
    const { atS } = fit.history[at]!;
    const f = fastPart(atS, lag);
    SHOWN[at] = shownAtS(atS, lag);
    FAST[at] = f;
    const w = WEIGHT[at]!;
    const y = RISE[at]!;
    common[0]! += w;
    common[1]! += w * y;
    common[2]! += w * y * y;
    common[3]! += w * f;
    common[4]! += w * f * f;
    common[5]! += w * f * y;
  }
  return common;
}

/** Sums of the curve x of the mix's first and the way d to its second, after `sumsOfLag`. */
export function sumsOfCurve(count: number, tau: number, mix: Mix): Float64Array {
  const one = curveOf(mix.none).atSteps;
  const other = curveOf(mix.all).atSteps;
  const stepsPerS = STEPS / tau;
  let [wx, wd, wxx, wxd, wdd, wxf, wdf, wxy, wdy] = [0, 0, 0, 0, 0, 0, 0, 0, 0];
  for (let at = 0; at < count; at += 1) {
    const place = Math.min(LAST_PLACE, SHOWN[at]! * stepsPerS);
    const step = Math.floor(place);
    const share = place - step;
    const left = one[step]! + share * (one[step + 1]! - one[step]!);
    const x = 1 - left;
    const d = left - other[step]! - share * (other[step + 1]! - other[step]!);
    const w = WEIGHT[at]!;
    const f = FAST[at]!;
    const y = RISE[at]!;
    const ofX = w * x;
    const ofD = w * d;
    wx += ofX;
    wd += ofD;
    wxx += ofX * x;
    wxd += ofX * d;
    wdd += ofD * d;
    wxf += ofX * f;
    wdf += ofD * f;
    wxy += ofX * y;
    wdy += ofD * y;
  }
  ofCurve.set([wx, wd, wxx, wxd, wdd, wxf, wdf, wxy, wdy]);
  return ofCurve;
}

const LAST_PLACE = LAST * STEPS - 1e-9;
