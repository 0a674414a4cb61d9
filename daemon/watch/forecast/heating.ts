/**
 * How a part warms from x = 0 to 1 (settled), u in time constants: x' = 1 - x·((1 - k) + k·x^¼), losses that grow by the
 * power 1.25 of the rise for natural convection (W. H. McAdams, Heat Transmission, laminar plates) and in proportion for
 * a fan, `k` the share of the former. Read from tables, within 1e-4.
 */
export interface HeatingCurve {
  /** Of its last part, which is an exponential, per time constant. */
  readonly rate: number;
  /** exp(-rate·u) over 1 - x, at even steps of x. */
  readonly ofWarmed: Float64Array;
  /** 1 - x over exp(-rate·u), at even steps of the latter. */
  readonly ofTime: Float64Array;
  /** 1 - x at `STEPS` even steps a time constant, for sums that ask often: within 2e-5, and 0 from `LAST` on. */
  readonly atSteps: Float64Array;
}

export const STEPS = 96;
export const LAST = 14;

const PANELS = 256;

export function heatingCurve(k: number): HeatingCurve {
  const rate = 1 + k / 4;
  const ofWarmed = new Float64Array(PANELS + 1);
  let sum = 0;
  for (let panel = 0; panel <= PANELS; panel += 1) {
    ofWarmed[panel] = Math.exp(-rate * sum);
    // u less the exponential's own -ln(1 - x)/rate has no pole at 1, so the midpoint rule serves.
    const middle = (panel + 0.5) / PANELS;
    sum += (1 / pace(middle, k) - 1 / (rate * (1 - middle))) / PANELS;
  }
  const ofTime = Float64Array.from({ length: PANELS + 1 }, (_, panel) =>
    solved(ofWarmed, Math.max(panel / PANELS, 1e-9)),
  );
  const curve = { rate, ofWarmed, ofTime };
  const atSteps = Float64Array.from({ length: LAST * STEPS + 1 }, (_, step) =>
    leftAfter(curve, step / STEPS),
  );
  return { ...curve, atSteps };
}

/** x after `u` time constants. */
export function warmedAfter(curve: HeatingCurve, u: number): number {
  return 1 - leftAfter(curve, u);
}

/** 1 - x after `u` time constants. */
export function leftAfter({ rate, ofTime }: Pick<HeatingCurve, 'rate' | 'ofTime'>, u: number): number {
  const left = Math.exp(-rate * u);
  return left * between(ofTime, left);
}

/** Time constants until x; Infinity when it is never reached. */
export function timeUntil({ rate, ofWarmed }: HeatingCurve, x: number): number {
  if (x >= 1) return Infinity;
  if (x <= 0) return 0;
  return -Math.log((1 - x) * between(ofWarmed, x)) / rate;
}

/** How the rest of a curve looks from `from` of its way on, as a curve of its own: y = (x - from)/(1 - from). */
export function restOf(k: number, from: number): Rest {
  const begins = Math.abs(1 - from) < 1e-3 ? 1 + 1e-3 : from;
  // Of its pace at the start, and by the slope of the losses at the end.
  const timeConstant = (1 - begins) / pace(begins, k);
  return { timeConstant, convection: 4 * ((1 + k / 4) * timeConstant - 1) };
}

/** Its time constant is a share of the whole curve's. Negative `convection`: cooling, which slows down as it goes. */
export interface Rest {
  readonly timeConstant: number;
  readonly convection: number;
}

function pace(x: number, k: number): number {
  return 1 - x * (1 - k + k * Math.sqrt(Math.sqrt(x)));
}

/** (1 - x)/left where x has `left` = exp(-rate·u), by bisection. */
function solved(ofWarmed: Float64Array, left: number): number {
  let low = 0;
  let high = 1;
  for (let halving = 0; halving < 50; halving += 1) {
    const x = (low + high) / 2;
    if ((1 - x) * between(ofWarmed, x) > left) low = x;
    else high = x;
  }
  return (1 - high) / left;
}

function between(table: Float64Array, share: number): number {
  const place = share * PANELS;
  const at = Math.min(PANELS - 1, Math.floor(place));
  return table[at]! + (place - at) * (table[at + 1]! - table[at]!);
}
