/** How a meter makes a number of an alternating voltage. */
export type MeterKind =
  /** Root of the mean square. */
  | 'true-rms'
  /** Mean of the rectified voltage times the form factor of a sine, π / (2·√2) = 1.111. */
  | 'average-responding';

/** What the ripple looks like between its charges. */
export type RippleShape =
  /** After a filter. */
  | { readonly kind: 'sine' }
  /** Straight up, straight down, however fast either: a constant-current load. */
  | { readonly kind: 'sawtooth' }
  /** Charged at once, discharged into a resistor. */
  | { readonly kind: 'exponential'; readonly meanVolts: number };

export interface RippleFromReading {
  /** V. */
  readonly peakToPeak: number;
  readonly meter: MeterKind;
  readonly shape: RippleShape;
  /** In one line, with its source. */
  readonly formula: string;
}

const SINE_FORM_FACTOR = Math.PI / (2 * Math.SQRT2);
/** Natural logarithm of peak over valley: beyond this the reservoir is as good as empty in the valley. */
const DEEPEST = 30;
const HALVINGS = 60;

/**
 * Peak-to-peak ripple from what a meter shows on its AC range (AC-coupled, V), by the shape that it is taken for.
 * @throws {RangeError} for a reading or a mean that isn't a voltage above 0, or more ripple than the mean allows.
 */
export function rippleFromReading(volts: number, meter: MeterKind, shape: RippleShape): RippleFromReading {
  if (!(volts >= 0 && Number.isFinite(volts))) {
    throw new RangeError(`reading: ${volts} V isn't an AC voltage; give one of at least 0 V`);
  }
  const trueRms = meter === 'true-rms';
  switch (shape.kind) {
    case 'sine':
      return {
        peakToPeak: 2 * Math.SQRT2 * volts,
        meter,
        shape,
        formula: 'Vpp = 2·√2·V; a sine reads the same on both kinds of meter',
      };
    case 'sawtooth':
      return trueRms
        ? {
            peakToPeak: 2 * Math.sqrt(3) * volts,
            meter,
            shape,
            formula:
              'Vpp = 2·√3·Vrms; RMS of straight slopes: amplitude / √3, handbooks of electrical engineering',
          }
        : {
            peakToPeak: (4 / SINE_FORM_FACTOR) * volts,
            meter,
            shape,
            formula:
              'Vpp = 4·V / 1.111; mean of rectified straight slopes: Vpp / 4, form factor of the sine: π / (2·√2)',
          };
    case 'exponential':
      return {
        peakToPeak: exponentialPeakToPeak(volts, meter, shape.meanVolts),
        meter,
        shape,
        formula: trueRms ? RMS_FORMULA : AVERAGE_FORMULA,
      };
  }
}

const RMS_FORMULA =
  'Vpp = k·Vmean where (Vrms / Vmean)² = (k/2)·coth(k/2) - 1, k = ln(peak / valley); integrals of an exponential';
const AVERAGE_FORMULA =
  'Vpp = k·Vmean where V / 1.111 / Vmean = 2·((p - 1) - ln p) / k, p = k / (1 - exp(-k)), k = ln(peak / valley); ' +
  'integrals of an exponential, form factor of the sine: π / (2·√2)';

function exponentialPeakToPeak(volts: number, meter: MeterKind, meanVolts: number): number {
  if (!(meanVolts > 0 && Number.isFinite(meanVolts))) {
    throw new RangeError(`mean: ${meanVolts} V; give the rail's DC voltage, above 0 V`);
  }
  const share = meter === 'true-rms' ? rmsShare : readShare;
  const target = volts / meanVolts;
  if (target > share(DEEPEST)) {
    throw new RangeError(
      `reading: ${volts} V of ripple is more than a rail of ${meanVolts} V mean can have; measure both again at the same load`,
    );
  }
  let [low, high] = [0, DEEPEST];
  for (let halving = 0; halving < HALVINGS; halving += 1) {
    const middle = (low + high) / 2;
    if (share(middle) < target) low = middle;
    else high = middle;
  }
  return ((low + high) / 2) * meanVolts;
}

/** AC RMS over mean of an exponential that falls from peak to valley by exp(-k). */
function rmsShare(k: number): number {
  // Series of (k/2)·coth(k/2) - 1: the difference itself loses its digits.
  if (k < 1e-2) return (k / Math.sqrt(12)) * Math.sqrt(1 - k ** 2 / 60);
  return Math.sqrt(k / 2 / Math.tanh(k / 2) - 1);
}

/** What an average-responding meter shows of it, over mean. */
function readShare(k: number): number {
  if (k < 1e-2) return (SINE_FORM_FACTOR * k) / 4;
  const peak = k / -Math.expm1(-k);
  return (SINE_FORM_FACTOR * 2 * (peak - 1 - Math.log(peak))) / k;
}
