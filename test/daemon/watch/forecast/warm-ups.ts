import { normalNoise, uniformNoise } from '../random.js';
import {
  bodyFrom,
  crossingsOf,
  steadyRise,
  warmUp,
  type Body,
  type BodyFigures,
  type Stretch,
} from './ladder.js';
import type { Trace } from './traces.js';

const LIMITS = [70, 85, 105];
const KINDS = ['load_step', 'load_step', 'load_step', 'power_off', 'power_off', 'sensor_off', 'sensor_off'];
const COOLINGS = ['fan_on', 'fan_off', 'lid_on', 'lid_off'];

/**
 * Warm-ups of the same kinds as the reference cases (bare TO-220 or on a heatsink, what a probe reads of the case), from
 * the same equations by another integrator, so that nothing is tuned to one set. Ranges are common practice: a TO-220
 * weighs 2 g, heatsinks from a clip to 150 g. Knows nothing of the forecast.
 */
export function makeWarmUps(count: number, seed: number): readonly Trace[] {
  return Array.from({ length: count }, (_, index) => makeWarmUp(seed * 100_003 + index));
}

interface Chance {
  readonly between: (low: number, high: number) => number;
  readonly ratio: (low: number, high: number) => number;
  readonly happens: (probability: number) => boolean;
  readonly of: <T>(choices: readonly T[]) => T;
}

function chanceOf(seed: number): Chance {
  const uniform = uniformNoise(seed);
  const between = (low: number, high: number): number => low + (high - low) * uniform();
  return {
    between,
    ratio: (low, high) => low * (high / low) ** uniform(),
    happens: (probability) => uniform() < probability,
    of: (choices) => choices[Math.floor(uniform() * choices.length)]!,
  };
}

function makeWarmUp(seed: number): Trace {
  const chance = chanceOf(seed);
  const figures = bodyFiguresOf(chance, normalNoise(seed ^ 0x5eed));
  const body = bodyFrom(figures);
  const durationS = 60 * Math.round(chance.between(31, 120));
  const onS = chance.happens(0.5) ? 0 : chance.between(5, 58);
  const stretches = stretchesOf(chance, body, onS, durationS);
  const isLifted = stretches.at(-1)?.isLifted === true;
  const rate = chance.happens(0.85) ? 1 : chance.happens(0.65) ? 0.2 : 10;
  const lsb = chance.happens(0.8) ? 0.1 : 1;
  const noiseK = chance.between(0, 0.3);
  const lagS = chance.ratio(1, 10);
  const airLagS = chance.between(Math.max(7, lagS + 2), 26);
  const curve = warmUp(body, stretches, lagS, airLagS, durationS, rate);
  const gaps = chance.happens(0.2) ? gapsOf(chance, curve.read.length) : [];
  const noise = normalNoise(seed ^ 0x0dd);
  let last = 0;
  const delta_counts = curve.read.map((celsius, index) => {
    const counts = Math.round((celsius + noiseK * noise()) / lsb);
    if (gaps.some(([from, until]) => index >= from && index < until)) return null;
    const delta = counts - last;
    last = counts;
    return delta;
  });
  const powered = stretches.find(({ powerW }) => powerW > 0)!;
  return {
    id: `made ${seed}`,
    sample_rate_Hz: rate,
    lsb_C: lsb,
    delta_counts,
    truth: {
      ...figures,
      sensor_lag_s: lagS,
      sensor_lag_in_air_s: isLifted ? airLagS : null,
      noise_rms_C: noiseK,
      device: body.sinkJPerK === 0 ? 'bare_TO220' : 'heatsink',
      theta_to_ambient_at_50K_C_per_W: 50 / body.lossW(50, { ...powered, convection: 1 }),
      sensor_off_s: isLifted ? stretches.at(-1)!.startS : null,
      segments: stretches
        .filter((one) => !one.isLifted)
        .map((one) => ({
          t_start_s: one.startS,
          power_W: one.powerW,
          local_ambient_C: one.airC,
          convection_factor: one.convection,
          steady_case_C: one.airC + steadyRise(body, one),
        })),
      events: [
        ...stretches.flatMap(({ startS, event }) => (event === null ? [] : [{ type: event, t_s: startS }])),
        ...(gaps.length === 0 ? [] : [{ type: 'missing_samples', t_s: null }]),
      ],
      crossing_time_s: crossingsOf(curve, LIMITS),
    },
  };
}

function bodyFiguresOf(chance: Chance, normal: () => number): BodyFigures {
  const emissivity = chance.between(0.1, 0.9);
  const isBare = chance.happens(0.4);
  const theta = isBare ? chance.between(40, 60) : chance.ratio(3, 25);
  const sink = Math.exp(5.57 - 0.664 * Math.log(theta) + 0.57 * normal());
  const areaM2 = isBare ? chance.between(5e-4, 8e-4) : 0.072 * theta ** -1.02 * Math.exp(0.23 * normal());
  const conduction = isBare ? chance.between(0.1, 0.4) / theta : chance.ratio(0.003, 0.12) / theta;
  const radiated = emissivity * areaM2 * 5.67e-8 * (348 ** 4 - 298 ** 4);
  const convection = Math.max(0.2 / theta, 50 / theta - radiated - 50 * conduction) / 50 ** 1.25;
  return {
    case_capacity_J_per_K: chance.between(1, 2.5),
    heatsink_capacity_J_per_K: isBare ? 0 : Math.max(11.5, Math.min(135, sink)),
    case_to_sink_C_per_W: chance.ratio(0.3, 2),
    emissivity,
    radiating_area_m2: areaM2,
    conduction_W_per_K: conduction,
    convection_coefficient_W_per_K1p25: convection,
  };
}

function stretchesOf(chance: Chance, body: Body, onS: number, durationS: number): readonly Stretch[] {
  const airC = chance.between(15, 34);
  const rest = { startS: 0, powerW: 0, airC, convection: 1, event: null, isLifted: false };
  const theta = 50 / body.lossW(50, rest);
  const powerW = Math.min(10, body.lossW(chance.between(15, 128), rest));
  const heatS = theta * (body.caseJPerK + body.sinkJPerK);
  const isCooling = chance.happens(0.18);
  const event = isCooling ? chance.of(COOLINGS) : chance.happens(0.55) ? chance.of(KINDS) : null;
  const eventS = chance.happens(0.5)
    ? Math.min(0.85 * durationS, onS + heatS * chance.between(0.5, 4))
    : onS + (0.85 * durationS - onS) * chance.between(0.1, 1);
  const closed = { airC: airC + chance.between(2, 10), convection: chance.between(0.5, 0.78) };
  const blown = { convection: chance.between(2, 3.5) };
  const first =
    event === 'lid_off' ? { ...rest, ...closed } : event === 'fan_off' ? { ...rest, ...blown } : rest;
  const on = { ...first, startS: onS, powerW };
  const cold = onS > 0 ? [first, on] : [on];
  if (event === null) return cold;
  const changed = changedBy(chance, { ...on, startS: eventS, event }, event, airC, { closed, blown });
  const laterS = eventS + heatS * chance.between(1, 4);
  const hasMore = (isCooling || event === 'load_step') && laterS < 0.85 * durationS && chance.happens(0.3);
  if (!hasMore) return [...cold, changed];
  const later = chance.of(['load_step', 'power_off']);
  const end = { ...changed, startS: laterS, event: later };
  return [...cold, changed, changedBy(chance, end, later, airC, { closed, blown })];
}

function changedBy(
  chance: Chance,
  next: Stretch,
  event: string,
  airC: number,
  { closed, blown }: { readonly closed: Partial<Stretch>; readonly blown: Partial<Stretch> },
): Stretch {
  if (event === 'lid_on') return { ...next, ...closed };
  if (event === 'fan_on') return { ...next, ...blown };
  if (event === 'lid_off' || event === 'fan_off') return { ...next, airC, convection: 1 };
  if (event === 'power_off') return { ...next, powerW: 0 };
  if (event === 'sensor_off') return { ...next, isLifted: true };
  return { ...next, powerW: Math.max(0.1, Math.min(10, next.powerW * chance.between(0.25, 2.4))) };
}

/** `[from, until)` of readings that never came. */
function gapsOf(chance: Chance, count: number): readonly (readonly [number, number])[] {
  return Array.from({ length: 1 + Math.floor(chance.between(0, 3)) }, () => {
    const from = Math.floor(chance.between(0, 0.9) * count);
    return [from, from + Math.floor(chance.ratio(1, 0.09 * count))] as const;
  });
}
