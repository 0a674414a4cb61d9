/** Kirchhoff's and Shockley's laws for a whole supply, integrated in time; nothing shared with the code under test. */
export interface WholeSupply {
  readonly hertz: number;
  readonly kind: 'bridge' | 'centre-tap' | 'half-wave';
  /** Amplitude without load (V) and ohms of the winding; of one half with a centre tap. */
  readonly peakVolts: number;
  readonly ohms: number;
  readonly diode: { readonly is: number; readonly n: number; readonly rs: number };
  readonly farads: number;
  readonly esr: number;
  /** Drawn from the reservoir at these volts beside the filter, A. */
  readonly drawn: (volts: number) => number;
  readonly filter?: WholeFilter;
}

/** What a filter does at these volts of the reservoir and of its capacitor. */
export type WholeFilter = (
  reservoirVolts: number,
  capacitorVolts: number,
) => {
  /** Out of the reservoir, A. */
  readonly amps: number;
  /** Of its capacitor, V/s. */
  readonly rate: number;
  readonly output: number;
  readonly watts: number;
};

export interface WholeWaves {
  readonly reservoir: Wave;
  readonly rectified: Wave;
  readonly capacitorAmps: Wave;
  readonly output: Wave;
  readonly filterWatts: Wave;
}

export interface Wave {
  readonly mean: number;
  readonly rms: number;
  readonly least: number;
  readonly most: number;
}

/** k T / q at 300 K (SI), V. */
const THERMAL_VOLTS = 0.025852;
const STEPS = 600;
const NUDGE = 1e-6;

interface Instant {
  readonly volts: number;
  readonly rectified: number;
  readonly capacitorAmps: number;
  readonly rates: readonly number[];
  readonly output: number;
  readonly watts: number;
}

/**
 * Periodic steady state by the trapezoidal rule and Newton's method on the state at the period's begin.
 * @throws where it isn't found.
 */
export function integrated(supply: WholeSupply): WholeWaves {
  const once = supply.kind === 'half-wave';
  const period = once ? 1 / supply.hertz : 0.5 / supply.hertz;
  const step = period / STEPS;
  const at = instantOf(supply);
  const run = (start: readonly number[], note?: (instant: Instant) => void): readonly number[] => {
    let state = start;
    let now = at(0, state);
    for (let k = 1; k <= STEPS; k += 1) {
      [state, now] = trapezoid(at, k * step, state, now, step);
      note?.(now);
    }
    return state;
  };
  let start: readonly number[] = [0.85, 0.75]
    .slice(0, supply.filter ? 2 : 1)
    .map((share) => share * supply.peakVolts);
  for (let k = 0; k < 6; k += 1) start = run(start);
  for (let round = 0; ; round += 1) {
    const end = run(start);
    const miss = end.map((value, k) => value - start[k]!);
    if (Math.max(...miss.map(Math.abs)) < 1e-7) break;
    if (round === 20) throw new Error('no periodic steady state found');
    start = newton(run, start, end, miss);
  }
  const instants: Instant[] = [];
  run(start, (instant) => instants.push(instant));
  return {
    reservoir: waveOf(instants.map(({ volts }) => volts)),
    rectified: waveOf(instants.map(({ rectified }) => rectified)),
    capacitorAmps: waveOf(instants.map(({ capacitorAmps }) => capacitorAmps)),
    output: waveOf(instants.map(({ output }) => output)),
    filterWatts: waveOf(instants.map(({ watts }) => watts)),
  };
}

type At = (time: number, state: readonly number[]) => Instant;

function instantOf(supply: WholeSupply): At {
  const { kind, hertz, peakVolts, ohms, farads, esr, drawn, filter } = supply;
  const diodes = kind === 'bridge' ? 2 : 1;
  return (time, [charged = 0, behind = 0]) => {
    const sine = peakVolts * Math.sin(2 * Math.PI * hertz * time);
    const emf = kind === 'half-wave' ? sine : Math.abs(sine);
    const balance = (volts: number) => {
      const rectified = junctionAmps(supply, diodes, ohms, emf - volts);
      const taken = filter?.(volts, behind);
      return { rectified, taken, into: rectified - drawn(volts) - (taken?.amps ?? 0) };
    };
    // The node stands ESR x current over the capacitor, and a higher node lets less in: Newton's method.
    let volts = charged;
    for (let k = 0; k < 40 && esr > 0; k += 1) {
      const over = volts - charged - esr * balance(volts).into;
      if (Math.abs(over) < 1e-11) break;
      const further = volts + NUDGE - charged - esr * balance(volts + NUDGE).into;
      volts -= (over * NUDGE) / (further - over);
    }
    const { rectified, taken, into } = balance(volts);
    return {
      volts,
      rectified,
      capacitorAmps: into,
      rates: [into / farads, ...(taken === undefined ? [] : [taken.rate])],
      output: taken?.output ?? volts,
      watts: taken?.watts ?? 0,
    };
  };
}

/** R i + diodes (n Vt ln(1 + i/is) + rs i) = volts, by Newton's method on the logarithm. */
function junctionAmps({ diode }: WholeSupply, diodes: number, ohms: number, volts: number): number {
  if (volts <= 0) return 0;
  const slope = diodes * diode.n * THERMAL_VOLTS;
  const resistance = (ohms + diodes * diode.rs) * diode.is;
  let log = Math.min(volts / slope, Math.log1p(volts / resistance));
  for (let k = 0; k < 60; k += 1) {
    const over = resistance * Math.expm1(log) + slope * log - volts;
    const by = over / (resistance * Math.exp(log) + slope);
    log -= by;
    if (Math.abs(by) < 1e-12 * (1 + log)) break;
  }
  return diode.is * Math.expm1(Math.max(0, log));
}

function trapezoid(
  at: At,
  time: number,
  state: readonly number[],
  now: Instant,
  step: number,
): [readonly number[], Instant] {
  let next = state.map((value, k) => value + step * now.rates[k]!);
  // A step is so short beside the time constants that putting in what came out settles at once.
  for (let round = 0; round < 40; round += 1) {
    const there = at(time, next);
    const better = state.map((value, k) => value + (step / 2) * (now.rates[k]! + there.rates[k]!));
    const miss = Math.max(...better.map((value, k) => Math.abs(value - next[k]!)));
    next = better;
    if (miss < 1e-11) return [next, there];
  }
  throw new Error('the trapezoidal rule does not settle; its step is too long for this supply');
}

function newton(
  run: (start: readonly number[]) => readonly number[],
  start: readonly number[],
  end: readonly number[],
  miss: readonly number[],
): readonly number[] {
  const columns = start.map((_, k) => {
    const other = run(moved(start, k, 1e-3));
    return other.map((value, j) => (value - end[j]!) / 1e-3 - (j === k ? 1 : 0));
  });
  const by = solved(columns, miss);
  return start.map((value, k) => value - by[k]!);
}

function moved(state: readonly number[], k: number, by: number): readonly number[] {
  return state.map((value, j) => (j === k ? value + by : value));
}

/** One or two equations by Cramer's rule. */
function solved(columns: readonly (readonly number[])[], right: readonly number[]): readonly number[] {
  const [[a = 0, c = 0] = [], [b = 0, d = 0] = []] = columns;
  const [p = 0, q = 0] = right;
  if (columns.length === 1) return [p / a];
  const determinant = a * d - b * c;
  return [(p * d - b * q) / determinant, (a * q - p * c) / determinant];
}

function waveOf(samples: readonly number[]): Wave {
  const sum = (of: (value: number) => number) => samples.reduce((total, value) => total + of(value), 0);
  return {
    mean: sum((value) => value) / samples.length,
    rms: Math.sqrt(sum((value) => value * value) / samples.length),
    least: Math.min(...samples),
    most: Math.max(...samples),
  };
}
