/** Numbers of one axis to places on paper. */
export interface Scale {
  readonly ticks: readonly number[];
  at(value: number): number;
}

const NICE_STEPS = [1, 2, 2.5, 5, 10];

/** An axis from at or below `low` to at or above `high`, with round ticks. */
export function scaleFor(
  [low, high]: readonly [number, number],
  [from, to]: readonly [number, number],
  mostTicks: number,
): Scale {
  const step = niceStep((high - low || 1) / mostTicks);
  const first = Math.floor(low / step) * step;
  const last = Math.max(Math.ceil(high / step) * step, first + step);
  const count = Math.round((last - first) / step);
  return {
    ticks: Array.from({ length: count + 1 }, (_, i) => Number((first + i * step).toPrecision(12))),
    at: (value) => from + ((value - first) / (last - first)) * (to - from),
  };
}

/** Ticks of time in ms: whole seconds, minutes or hours. */
export function timeTicks(lengthMs: number, mostTicks: number): readonly number[] {
  const steps = [1, 5, 10, 15, 30, 60, 120, 300, 600, 900, 1800, 3600, 7200, 14_400, 28_800, 86_400];
  const step = (steps.find((seconds) => lengthMs / 1000 / seconds <= mostTicks) ?? lengthMs / 1000) * 1000;
  return Array.from({ length: Math.floor(lengthMs / step) + 1 }, (_, i) => i * step);
}

function niceStep(rough: number): number {
  const power = 10 ** Math.floor(Math.log10(rough));
  return (NICE_STEPS.find((nice) => nice * power >= rough * 0.999) ?? 10) * power;
}

/** A place on paper: a tenth of a point is finer than any printer. */
export function roundedPlace(value: number): string {
  return String(Math.round(value * 10) / 10);
}
