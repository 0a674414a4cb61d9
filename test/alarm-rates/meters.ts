import type { Accuracy } from '../../daemon/design/bench.js';
import type { PointUnit } from '../../daemon/predict/prediction.js';
import type { ChannelPlan } from '../../daemon/watch/plan.js';
import { packedSamples } from '../../daemon/record/capture/samples.js';
import type { CaptureEvent, ReadingEvent } from '../../daemon/watch/events.js';
import type { RandomSource } from '../../drivers/simulated/random.js';
import { waveAt, type SimulatedSupply } from '../../drivers/simulated/supply.js';

/** What of the supply can be seen. */
type Seen = Pick<SimulatedSupply, 'read' | 'waveform'>;

/** What is on the table: volts and cases alone, or with an AC range and an ammeter, or with a scope in its stead. */
export type Equipment = 'volts-and-cases' | 'with-ac-meter' | 'with-scope';

/** One channel, and how it errs. */
export interface Meter {
  readonly plan: ChannelPlan;
  /** Where its probe sits. */
  point: string;
  readonly unit: PointUnit | 'capture';
  /** What the simulated supply calls what it sees at a point. */
  readonly sees: (point: string) => string;
  readonly gain: number;
  readonly offset: number;
  /** Standard deviation of one reading: a share of it, and an amount. */
  readonly noise: { readonly share: number; readonly least: number };
  readonly firstAtMs: number;
}

interface Kind {
  readonly instrument: string;
  readonly channel: string;
  readonly point: string;
  readonly unit: Meter['unit'];
  readonly intervalMs: number;
  readonly accuracy: Accuracy;
  readonly noise: Meter['noise'];
  readonly sees?: Meter['sees'];
}

/** Accuracies as common hand-held meters and two-dollar boards have them (from memory of their sheets). */
const BENCH_VOLTS: Accuracy = { percent: 0.1, counts: 3, resolution: 0.001 };
const BOARD_VOLTS: Accuracy = { percent: 0.5, counts: 2, resolution: 0.01 };
const AC_VOLTS: Accuracy = { percent: 1, counts: 5, resolution: 0.001 };
const AMPS: Accuracy = { percent: 0.8, counts: 3, resolution: 0.001 };
const CASES: Accuracy = { percent: 0, counts: 10, resolution: 0.1 };

/** The table of a session, each channel with errors of its own within its accuracy. */
export function metersFor(rails: readonly string[], equipment: Equipment, random: RandomSource): Meter[] {
  return kindsFor(rails, equipment).map(({ instrument, channel, intervalMs, accuracy, ...kind }) => ({
    sees: (point) => point,
    ...kind,
    plan: { instrument, channel, intervalMs, accuracy },
    gain: 1 + (accuracy.percent / 200) * clipped(random),
    offset: ((accuracy.counts * (accuracy.resolution ?? 0)) / 2) * clipped(random),
    firstAtMs: 250 * Math.floor((intervalMs / 250) * random.uniform()),
  }));
}

function kindsFor(rails: readonly string[], equipment: Equipment): Kind[] {
  const quiet = { share: 2e-4, least: 0.001 };
  const kinds: Kind[] = [
    {
      instrument: 'meter',
      channel: 'volts',
      point: 'reservoir.volts',
      unit: 'V',
      intervalMs: 500,
      accuracy: BENCH_VOLTS,
      noise: quiet,
    },
    ...rails.map((rail) => ({
      instrument: 'board',
      channel: `${rail}.volts`,
      point: `${rail}.volts`,
      unit: 'V' as const,
      intervalMs: 1000,
      accuracy: BOARD_VOLTS,
      noise: { share: 5e-4, least: 0.004 },
    })),
    ...rails.map((rail) => ({
      instrument: 'probes',
      channel: `${rail}.case`,
      point: `${rail}.case`,
      unit: 'degC' as const,
      intervalMs: 1000,
      accuracy: CASES,
      noise: { share: 0, least: 0.15 },
    })),
  ];
  if (equipment === 'volts-and-cases') return kinds;
  const amps: Kind = {
    instrument: 'ammeter',
    channel: 'amps',
    point: 'transformer.amps',
    unit: 'Arms',
    intervalMs: 500,
    accuracy: AMPS,
    noise: { share: 1e-3, least: 0.0005 },
  };
  const ripple: Kind =
    equipment === 'with-scope'
      ? {
          instrument: 'scope',
          channel: 'ch1',
          point: 'reservoir.ripple',
          unit: 'capture',
          intervalMs: 5000,
          accuracy: { percent: 3, counts: 0 },
          noise: { share: 0, least: 0.01 },
        }
      : {
          instrument: 'ac-meter',
          channel: 'volts',
          point: 'reservoir.ripple',
          unit: 'Vrms',
          intervalMs: 1000,
          accuracy: AC_VOLTS,
          noise: { share: 5e-3, least: 0.002 },
          sees: (point) => point.replace(/\.ripple$/, '.ripple-rms'),
        };
  return [...kinds, amps, ripple];
}

/** Normal, cut off at two standard deviations: a meter keeps what its maker promises. */
export function clipped(random: RandomSource): number {
  return Math.max(-2, Math.min(2, random.normal()));
}

/** What a meter says of the supply at this moment. */
export function readMeter(
  meter: Meter,
  supply: Seen,
  atMs: number,
  random: RandomSource,
): ReadingEvent | CaptureEvent {
  if (meter.unit === 'capture') return captureOf(meter, supply, atMs, random);
  const { plan, gain, offset, noise } = meter;
  const truth = supply.read(meter.sees(meter.point));
  const deviation = noise.share * Math.abs(truth) + noise.least;
  const { resolution = 0.001 } = plan.accuracy ?? {};
  const value = resolution * Math.round((gain * truth + offset + deviation * random.normal()) / resolution);
  const { instrument, channel } = plan;
  return { kind: 'reading', atMs, instrument, channel, value, unit: meter.unit };
}

const POINTS = 500;
const CYCLES = 5;
const COUNTS = 200;

/** Five cycles in five hundred samples of eight bits, AC coupled, the trace over most of the screen. */
function captureOf(
  { plan, point, gain, noise }: Meter,
  supply: Seen,
  atMs: number,
  random: RandomSource,
): CaptureEvent {
  const wave = supply.waveform(point.slice(0, point.indexOf('.')));
  const phase = random.uniform();
  const volts = Array.from({ length: POINTS }, (_, at) => waveAt(wave, phase + (CYCLES * at) / POINTS));
  const mean = volts.reduce((sum, one) => sum + one, 0) / POINTS;
  const spread = volts.reduce((most, one) => Math.max(most, Math.abs(one - mean)), 0);
  const scale = (2.4 * Math.max(spread, 0.02)) / COUNTS;
  const samples = Int8Array.from(volts, (one) => {
    const seen = gain * (one - mean) + noise.least * random.normal();
    return Math.max(-127, Math.min(127, Math.round(seen / scale)));
  });
  return {
    kind: 'capture',
    atMs,
    instrument: plan.instrument,
    channel: plan.channel,
    point,
    unit: 'V',
    ...packedSamples(samples),
    scale,
    offset: 0,
    startSeconds: 0,
    stepSeconds: CYCLES / wave.hertz / POINTS,
    coupling: 'ac',
  };
}
