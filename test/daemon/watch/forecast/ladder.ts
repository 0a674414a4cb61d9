/** A case, with or without a heatsink behind it. */
export interface Body {
  readonly caseJPerK: number;
  /** 0: bare. */
  readonly sinkJPerK: number;
  /** K/W. */
  readonly caseToSink: number;
  /** What it gives off at this rise over its air, W. */
  readonly lossW: (riseK: number, stretch: Stretch) => number;
}

/** What a body is made of, as the reference cases name it, and its probe. */
export interface BodyFigures {
  readonly case_capacity_J_per_K: number;
  readonly heatsink_capacity_J_per_K: number;
  readonly case_to_sink_C_per_W: number;
  readonly emissivity: number;
  readonly radiating_area_m2: number;
  readonly conduction_W_per_K: number;
  readonly convection_coefficient_W_per_K1p25: number;
}

export interface ProbeFigures {
  readonly sensor_lag_s: number;
  /** Null where the bead stays on. */
  readonly sensor_lag_in_air_s: number | null;
  readonly noise_rms_C: number;
}

export function bodyFrom(figures: BodyFigures): Body {
  const { emissivity, radiating_area_m2: area, conduction_W_per_K: conduction } = figures;
  return {
    caseJPerK: figures.case_capacity_J_per_K,
    sinkJPerK: figures.heatsink_capacity_J_per_K,
    caseToSink: figures.case_to_sink_C_per_W,
    lossW: (riseK, { airC, convection }) => {
      const air = airC + 273.15;
      const radiation = emissivity * area * 5.67e-8 * ((air + riseK) ** 4 - air ** 4);
      const carried = figures.convection_coefficient_W_per_K1p25 * riseK * Math.abs(riseK) ** 0.25;
      return conduction * riseK + radiation + convection * carried;
    },
  };
}

/** A time in which power, air and cooling stay the same. */
export interface Stretch {
  readonly startS: number;
  readonly powerW: number;
  readonly airC: number;
  /** Convection, in still air's. */
  readonly convection: number;
  readonly event: string | null;
  readonly isLifted: boolean;
}

export interface Curve {
  readonly stepS: number;
  /** Of the case at every step, degrees C. */
  readonly case: Float64Array;
  /** What the probe shows at every reading, degrees C, without noise. */
  readonly read: readonly number[];
}

const STEP_S = 0.1;

/** Explicit midpoint steps of a tenth of a second (any text on numerical analysis); the case node by its exponential. */
export function warmUp(
  body: Body,
  stretches: readonly Stretch[],
  lagS: number,
  airLagS: number,
  durationS: number,
  rateHz: number,
): Curve {
  const steps = Math.round(durationS / STEP_S);
  const cases = new Float64Array(steps + 1);
  const read: number[] = [];
  const every = Math.round(1 / rateHz / STEP_S);
  let place = 0;
  let sink = stretches[0]!.airC;
  let hot = sink;
  let shown = sink;
  const isBare = body.sinkJPerK === 0;
  const caseShare = isBare ? 0 : 1 - Math.exp(-STEP_S / (body.caseJPerK * body.caseToSink));
  const heatJPerK = isBare ? body.caseJPerK : body.sinkJPerK;
  for (let step = 0; step <= steps; step += 1) {
    cases[step] = hot;
    if (step % every === 0) read.push(shown);
    while (place + 1 < stretches.length && stretches[place + 1]!.startS <= (step + 0.5) * STEP_S) place += 1;
    const stretch = stretches[place]!;
    const inW = isBare ? stretch.powerW : (hot - sink) / body.caseToSink;
    const half = sink + (STEP_S / 2 / heatJPerK) * (inW - body.lossW(sink - stretch.airC, stretch));
    sink += (STEP_S / heatJPerK) * (inW - body.lossW(half - stretch.airC, stretch));
    hot = isBare ? sink : hot + (sink + stretch.powerW * body.caseToSink - hot) * caseShare;
    const [goal, lag] = stretch.isLifted ? [stretch.airC, airLagS] : [hot, lagS];
    shown = goal + (shown - goal) * Math.exp(-STEP_S / lag);
  }
  return { stepS: STEP_S, case: cases, read };
}

/** Of the case over its air, K, by bisection. */
export function steadyRise(body: Body, stretch: Stretch): number {
  let low = 0;
  let high = 1000;
  for (let halving = 0; halving < 50; halving += 1) {
    const middle = (low + high) / 2;
    if (body.lossW(middle, stretch) < stretch.powerW) low = middle;
    else high = middle;
  }
  return low + (body.sinkJPerK === 0 ? 0 : stretch.powerW * body.caseToSink);
}

/** When the case first passed each limit, s; null: never. */
export function crossingsOf(
  { case: cases, stepS }: Curve,
  limits: readonly number[],
): Record<string, number | null> {
  return Object.fromEntries(
    limits.map((limit) => {
      const at = cases.findIndex((celsius) => celsius >= limit);
      return [String(limit), at < 0 ? null : at * stepS];
    }),
  );
}
