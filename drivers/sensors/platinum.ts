/** Coefficients of the Callendar-Van Dusen equation in IEC 60751. */
const A = 3.9083e-3;
const B = -5.775e-7;
const C = -4.183e-12;

/** Where IEC 60751 defines the resistance. */
const LOWEST = -200;
const HIGHEST = 850;
const MOST_STEPS = 8;
const CLOSE_ENOUGH = 1e-9;

/**
 * The ohms of a platinum resistor that has `zeroOhms` at 0 degrees C (100 for a Pt100), by IEC 60751:
 * R = R0 (1 + A t + B t^2 + C (t - 100) t^3), the last term below 0 only. Null outside -200..850 degrees C.
 */
export function platinumOhms(zeroOhms: number, temperature: number): number | null {
  if (!(temperature >= LOWEST && temperature <= HIGHEST)) return null;
  return zeroOhms * ratioAt(temperature);
}

/**
 * The temperature at which a platinum resistor has these ohms; `leadOhms` in series with it are taken off first.
 * Null outside the range of IEC 60751.
 */
export function platinumTemperature(zeroOhms: number, ohms: number, leadOhms = 0): number | null {
  const ratio = (ohms - leadOhms) / zeroOhms;
  if (!(ratio >= LOWEST_RATIO && ratio <= HIGHEST_RATIO)) return null;
  const above = (Math.sqrt(A * A - 4 * B * (1 - ratio)) - A) / (2 * B);
  return ratio >= 1 ? above : below(ratio, above);
}

/** Newton's steps from the quadratic's answer, which is within 3 K down to -200 degrees C. */
function below(ratio: number, start: number): number {
  let temperature = start;
  for (let steps = 0; steps < MOST_STEPS; steps += 1) {
    const t = temperature;
    const slope = A + 2 * B * t + C * (4 * t - 300) * t * t;
    const change = (ratioAt(t) - ratio) / slope;
    temperature -= change;
    if (Math.abs(change) < CLOSE_ENOUGH) break;
  }
  return temperature;
}

function ratioAt(t: number): number {
  const quadratic = 1 + t * (A + B * t);
  return t < 0 ? quadratic + C * (t - 100) * t * t * t : quadratic;
}

const LOWEST_RATIO = ratioAt(LOWEST);
const HIGHEST_RATIO = ratioAt(HIGHEST);
