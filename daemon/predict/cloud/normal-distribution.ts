/**
 * The point that a standard normal value stays below with probability `share` (0 to 1, ends excluded).
 * Wichura, algorithm AS 241 (PPND16), Applied Statistics 37 (1988) 477-484: relative accuracy about 1e-16.
 */
export function inverseNormal(share: number): number {
  const offset = share - 0.5;
  if (Math.abs(offset) <= 0.425) return offset * ratio(CENTRE, 0.180625 - offset * offset);
  const r = Math.sqrt(-Math.log(offset < 0 ? share : 1 - share));
  const distance = r <= 5 ? ratio(MIDDLE, r - 1.6) : ratio(FAR, r - 5);
  return offset < 0 ? -distance : distance;
}

/**
 * Probability that a standard normal value stays below `z`. Hart et al., Computer Approximations (1968), no. 5666,
 * in the form of West, Better approximations to cumulative normal functions (2005): accurate to about 1e-15.
 */
export function normalCumulative(z: number): number {
  const distance = Math.abs(z);
  if (distance > 37) return z > 0 ? 1 : 0;
  const bell = Math.exp((-distance * distance) / 2);
  const tail =
    distance < 10 / Math.SQRT2 ? bell * ratio(TAIL, distance) : bell / (farFraction(distance) * ROOT_TWO_PI);
  return z > 0 ? 1 - tail : tail;
}

const ROOT_TWO_PI = Math.sqrt(2 * Math.PI);

function farFraction(distance: number): number {
  let fraction = distance + 0.65;
  for (let step = 4; step >= 1; step -= 1) fraction = distance + step / fraction;
  return fraction;
}

/** A ratio of polynomials, highest power first. */
interface Ratio {
  readonly above: Float64Array;
  readonly below: Float64Array;
}

function ratio({ above, below }: Ratio, x: number): number {
  let numerator = 0;
  let denominator = 0;
  for (let at = 0; at < above.length; at += 1) numerator = numerator * x + above[at]!;
  for (let at = 0; at < below.length; at += 1) denominator = denominator * x + below[at]!;
  return numerator / denominator;
}

const CENTRE: Ratio = {
  above: Float64Array.of(
    2509.0809287301226727,
    33430.575583588128105,
    67265.770927008700853,
    45921.953931549871457,
    13731.693765509461125,
    1971.5909503065514427,
    133.14166789178437745,
    3.387132872796366608,
  ),
  below: Float64Array.of(
    5226.495278852854561,
    28729.085735721942674,
    39307.89580009271061,
    21213.794301586595867,
    5394.1960214247511077,
    687.1870074920579083,
    42.313330701600911252,
    1,
  ),
};

const MIDDLE: Ratio = {
  above: Float64Array.of(
    7.7454501427834140764e-4,
    0.0227238449892691845833,
    0.24178072517745061177,
    1.27045825245236838258,
    3.64784832476320460504,
    5.7694972214606914055,
    4.6303378461565452959,
    1.42343711074968357734,
  ),
  below: Float64Array.of(
    1.05075007164441684324e-9,
    5.475938084995344946e-4,
    0.0151986665636164571966,
    0.14810397642748007459,
    0.68976733498510000455,
    1.6763848301838038494,
    2.05319162663775882187,
    1,
  ),
};

const FAR: Ratio = {
  above: Float64Array.of(
    2.01033439929228813265e-7,
    2.71155556874348757815e-5,
    0.0012426609473880784386,
    0.026532189526576123093,
    0.29656057182850489123,
    1.7848265399172913358,
    5.4637849111641143699,
    6.6579046435011037772,
  ),
  below: Float64Array.of(
    2.04426310338993978564e-15,
    1.4215117583164458887e-7,
    1.8463183175100546818e-5,
    7.868691311456132591e-4,
    0.0148753612908506148525,
    0.13692988092273580531,
    0.59983220655588793769,
    1,
  ),
};

const TAIL: Ratio = {
  above: Float64Array.of(
    3.52624965998911e-2,
    0.700383064443688,
    6.37396220353165,
    33.912866078383,
    112.079291497871,
    221.213596169931,
    220.206867912376,
  ),
  below: Float64Array.of(
    8.83883476483184e-2,
    1.75566716318264,
    16.064177579207,
    86.7807322029461,
    296.564248779674,
    637.333633378831,
    793.826512519948,
    440.413735824752,
  ),
};
