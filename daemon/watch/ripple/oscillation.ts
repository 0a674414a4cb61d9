import { meanPower } from './fourier.js';
import type { Trace } from './mains-frequency.js';
import type { Oscillation } from './ripple.js';

/** Below so many times the mains, what is left may still be the ripple's own shape. */
const FIRST_MULTIPLE = 8;
const LONGEST_PART = 8192;
const SHORTEST_PART = 256;
/** Oscillations come and go with the ripple, which puts lines beside theirs: so many mains frequencies around belong. */
const HALF_WIDTH = 3;
const NARROWEST_BINS = 2;
/** Noise isn't white: a hump lower than this above the median isn't an oscillation. */
const LOWEST_HUMP = 4;
/** Another hump of this share of the strongest one's power counts. */
const ALSO_STRONG = 0.05;
const MOST_HUMPS = 8;
/** Common practice: fewer samples a cycle show neither the frequency nor the height of an oscillation. */
const SAMPLES_A_CYCLE = 2.5;

interface Hump {
  /** V². */
  readonly power: number;
  /** Bins. */
  readonly centre: number;
  readonly from: number;
  readonly until: number;
}

/**
 * The strongest oscillation in what is left beside the ripple, of at least this amplitude (V); null when none stands
 * out of the noise. Several strong frequencies that aren't multiples of one, as bursts have them, are those of
 * something faster than the sampling shows: their frequency can't be told.
 */
export function findOscillation(rest: Trace, mainsHertz: number, leastAmplitude: number): Oscillation | null {
  const size = Math.min(LONGEST_PART, 2 ** Math.floor(Math.log2(rest.values.length)));
  if (size < SHORTEST_PART) return null;
  const power = meanPower(rest.values, size);
  const bins = (hertz: number): number => Math.round(hertz * rest.stepSeconds * size);
  const half = Math.max(NARROWEST_BINS, bins(HALF_WIDTH * mainsHertz));
  const humps = humpsOf(power, bins(FIRST_MULTIPLE * mainsHertz), half, (2 * rest.values.length) / size);
  const strongest = humps[0];
  if (strongest === undefined) return null;
  const amplitude = Math.sqrt(2 * strongest.power);
  if (amplitude < leastAmplitude) return null;
  const strong = humps.filter((hump) => hump.power > ALSO_STRONG * strongest.power);
  const isTold = (strongest.centre / size) * SAMPLES_A_CYCLE < 1 && areMultiples(strong, half);
  return { hertz: isTold ? strongest.centre / size / rest.stepSeconds : null, amplitude };
}

/** What stands out of the noise from bin `first` on, strongest first. `parts`: how many spectra were averaged. */
function humpsOf(power: Float64Array, first: number, half: number, parts: number): readonly Hump[] {
  const sums = windowSums(power, half);
  const end = power.length - half;
  if (end - first < 4 * half) return [];
  const background = median(sums.subarray(first, end));
  const least = background * standsOut(((2 * half + 1) / 1.5) * Math.max(1, parts / 2));
  const humps: Hump[] = [];
  const taken = new Uint8Array(power.length);
  for (;;) {
    let top = -1;
    for (let k = first; k < end; k += 1) if (taken[k] === 0 && (top < 0 || sums[k]! > sums[top]!)) top = k;
    if (top < 0 || !(sums[top]! > least)) return humps;
    if (humps.length > 0 && humps.length >= MOST_HUMPS) return humps;
    const hump = humpAt(power, sums, top, half, background);
    humps.push(hump);
    taken.fill(1, Math.max(0, hump.from - half), hump.until + half + 1);
  }
}

/** Times the median that a sum of so many independent powers of noise hardly ever passes: their spread, six times. */
function standsOut(independent: number): number {
  return Math.max(LOWEST_HUMP, 1 + 6 / Math.sqrt(independent) + 20 / independent);
}

function windowSums(power: Float64Array, half: number): Float64Array {
  const sums = new Float64Array(power.length);
  for (let k = half; k < power.length - half; k += 1) {
    let sum = 0;
    for (let j = k - half; j <= k + half; j += 1) sum += power[j]!;
    sums[k] = sum;
  }
  return sums;
}

/** The hump around `top` down to its foot, the noise taken off. */
function humpAt(
  power: Float64Array,
  sums: Float64Array,
  top: number,
  half: number,
  background: number,
): Hump {
  const foot = Math.max(sums[top]! / 10, 2 * background);
  const [from, until] = [-1, 1].map((way) => {
    let k = top;
    while (
      k + way >= half &&
      k + way < power.length - half &&
      (sums[k + way]! > foot || Math.abs(k - top) < half)
    )
      k += way;
    return k;
  }) as [number, number];
  const noise = background / (2 * half + 1);
  let sum = 0;
  let moment = 0;
  for (let k = from; k <= until; k += 1) {
    sum += power[k]! - noise;
    moment += k * (power[k]! - noise);
  }
  return { power: sum, centre: moment / sum, from, until };
}

function areMultiples(humps: readonly Hump[], half: number): boolean {
  if (humps.length === 1) return true;
  const centres = humps.map(({ centre }) => centre).sort((a, b) => a - b);
  const gap = Math.min(...centres.slice(1).map((centre, i) => centre - centres[i]!));
  return centres.every(
    (centre) => Math.abs(centre - Math.round(centre / gap) * gap) <= Math.max(half, 0.05 * gap),
  );
}

function median(values: Float64Array): number {
  return values.slice().sort()[values.length >> 1]!;
}
