/** Where heat and temperature that depend on each other come to rest. */
export interface CoupledState {
  /** Of each heat source, W. */
  readonly watts: readonly number[];
  /** °C, as the thermal model returned them. */
  readonly temperatures: readonly number[];
}

/** Coming to rest, or running away past `ceiling`. */
export type CoupledResult =
  | ({ readonly settles: true } & CoupledState)
  | { readonly settles: false; readonly ceiling: number; readonly last: CoupledState };

/** The thermal side: temperatures (°C) after a long time at these heats (W). */
export type SteadyThermal = (watts: readonly number[]) => ArrayLike<number>;
/** The electrical side: heats (W, finite) at these temperatures (°C). */
export type HeatAt = (temperatures: readonly number[]) => readonly number[];

/** Past this a part is long dead, °C. */
export const RUNAWAY_CEILING = 1000;
const WATTS_TOLERANCE = 1e-9;
const MOST_ROUNDS = 400;

/**
 * Solves one heat that depends on the temperatures it makes: the first resting point reached when warming up from cold.
 *
 * Iterating heat → temperature → heat climbs to that point without passing it while more temperature means more heat
 * (monotone), sped up by the secant; where it means less, the first round overshoots and the point lies bracketed:
 * then false position with the Illinois rule, which can't leave the bracket.
 */
export function solveCoupled(
  heatAt: (temperatures: readonly number[]) => number,
  steady: (watts: number) => ArrayLike<number>,
  ceiling: number = RUNAWAY_CEILING,
): CoupledResult {
  const excess = (watts: number): number => heatAt(Array.from(steady(watts))) - watts;
  let low = 0;
  let lowExcess = excess(0);
  for (let round = 0; round < MOST_ROUNDS; round++) {
    if (Math.abs(lowExcess) <= WATTS_TOLERANCE * (1 + low)) return rest(low, steady);
    const high = low + lowExcess;
    if (hottest(steady(high)) > ceiling) return runaway(low, steady, ceiling);
    const highExcess = excess(high);
    if (highExcess <= 0) return rest(between(excess, low, lowExcess, high, highExcess), steady);
    const gain = 1 + (highExcess - lowExcess) / lowExcess;
    const leap = gain < 1 ? high + (highExcess * gain) / (1 - gain) : high;
    const leapExcess = hottest(steady(leap)) > ceiling ? -1 : excess(leap);
    if (leapExcess <= 0 && hottest(steady(leap)) <= ceiling) {
      return rest(between(excess, high, highExcess, leap, leapExcess), steady);
    }
    low = leapExcess > 0 ? leap : high;
    lowExcess = leapExcess > 0 ? leapExcess : highExcess;
  }
  return runaway(low, steady, ceiling);
}

/** Root of a falling-through-zero excess inside a bracket. */
function between(
  excess: (watts: number) => number,
  low: number,
  lowExcess: number,
  high: number,
  highExcess: number,
): number {
  let [a, fa, b, fb] = [low, lowExcess, high, highExcess];
  let side = 0;
  for (let round = 0; round < MOST_ROUNDS; round++) {
    const middle = fa === fb ? (a + b) / 2 : (a * fb - b * fa) / (fb - fa);
    const value = excess(middle);
    if (Math.abs(value) <= WATTS_TOLERANCE * (1 + middle) || b - a <= WATTS_TOLERANCE * (1 + a))
      return middle;
    if (value > 0) {
      [a, fa] = [middle, value];
      if (side === 1) fb /= 2;
      side = 1;
    } else {
      [b, fb] = [middle, value];
      if (side === -1) fa /= 2;
      side = -1;
    }
  }
  return (a + b) / 2;
}

/**
 * The same for several heats on one thermal network: iteration from cold, each round's step halved whenever the miss
 * didn't shrink and lengthened again when it does. Rests only where every heat meets its own temperature.
 */
export function solveCoupledParts(
  parts: number,
  heatAt: HeatAt,
  steady: SteadyThermal,
  ceiling: number = RUNAWAY_CEILING,
): CoupledResult {
  let watts = new Array<number>(parts).fill(0);
  let share = 1;
  let lastMiss = Infinity;
  for (let round = 0; round < 10 * MOST_ROUNDS; round++) {
    const temperatures = Array.from(steady(watts));
    if (hottest(temperatures) > ceiling) return { settles: false, ceiling, last: { watts, temperatures } };
    const wanted = heatAt(temperatures);
    const miss = watts.reduce(
      (most, value, k) => Math.max(most, Math.abs(wanted[k]! - value) / (1 + Math.abs(value))),
      0,
    );
    if (miss <= WATTS_TOLERANCE) return { settles: true, watts, temperatures };
    share = miss < lastMiss ? Math.min(1, share * 1.2) : Math.max(1e-3, share / 2);
    lastMiss = miss;
    watts = watts.map((value, k) => value + share * (wanted[k]! - value));
  }
  return { settles: false, ceiling, last: { watts, temperatures: Array.from(steady(watts)) } };
}

function rest(watts: number, steady: (watts: number) => ArrayLike<number>): CoupledResult {
  return { settles: true, watts: [watts], temperatures: Array.from(steady(watts)) };
}

function runaway(
  watts: number,
  steady: (watts: number) => ArrayLike<number>,
  ceiling: number,
): CoupledResult {
  return { settles: false, ceiling, last: { watts: [watts], temperatures: Array.from(steady(watts)) } };
}

function hottest(temperatures: ArrayLike<number>): number {
  let most = -Infinity;
  for (let k = 0; k < temperatures.length; k++) most = Math.max(most, temperatures[k]!);
  return most;
}
