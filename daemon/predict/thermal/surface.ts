/** Stefan-Boltzmann constant, W/(m²·K⁴) (CODATA 2018). */
export const STEFAN_BOLTZMANN = 5.670374419e-8;
/** 0 °C in kelvin. */
export const ZERO_CELSIUS_K = 273.15;

/**
 * How a surface gives heat to still air: conduction·ΔT + convection·ΔT^1.25 + radiation·σ(T⁴ − Tair⁴).
 * The exponent is that of laminar natural convection, h ∝ ΔT^0.25 (textbook).
 */
export interface SurfaceLaw {
  /** Through leads and board, W/K. */
  readonly conduction: number;
  /** W/K^1.25. */
  readonly convection: number;
  /** Emissivity times radiating area, m². */
  readonly radiation: number;
}

/** Heat given off at these surface and air temperatures (°C), W; negative when the air is warmer. */
export function heatFlow(law: SurfaceLaw, surface: number, air: number): number {
  const rise = surface - air;
  const size = Math.abs(rise);
  return (
    law.conduction * rise +
    law.convection * rise * Math.sqrt(Math.sqrt(size)) +
    law.radiation * STEFAN_BOLTZMANN * (fourth(surface) - fourth(air))
  );
}

/** dW/dT of `heatFlow` by the surface's temperature, W/K. */
export function heatFlowSlope(law: SurfaceLaw, surface: number, air: number): number {
  const kelvin = surface + ZERO_CELSIUS_K;
  return (
    law.conduction +
    1.25 * law.convection * Math.sqrt(Math.sqrt(Math.abs(surface - air))) +
    4 * law.radiation * STEFAN_BOLTZMANN * kelvin * kelvin * kelvin
  );
}

/** Surface to air at a rise of `rise` K over `air`, K/W. */
export function surfaceResistance(law: SurfaceLaw, rise: number, air: number): number {
  return rise / heatFlow(law, air + rise, air);
}

/**
 * Temperature at which the surface gives off `watts` (not negative), °C: Newton held between bounds.
 * Flow rises and is convex above the air, so Newton from above comes down without overshoot.
 */
export function surfaceTemperature(law: SurfaceLaw, watts: number, air: number): number {
  if (watts <= 0) return air;
  let low = air;
  let high = upperBound(law, watts, air);
  let temperature = high;
  for (let k = 0; k < 100; k++) {
    const excess = heatFlow(law, temperature, air) - watts;
    if (excess > 0) high = temperature;
    else low = temperature;
    const next = temperature - excess / heatFlowSlope(law, temperature, air);
    if (Math.abs(next - temperature) < 1e-11 * (1 + Math.abs(temperature))) return next;
    temperature = next > low && next < high ? next : (low + high) / 2;
  }
  return temperature;
}

/** The rise if one way had to carry all: the least of the three, and a hair for rounding, bounds it. */
function upperBound(law: SurfaceLaw, watts: number, air: number): number {
  const byConduction = law.conduction > 0 ? watts / law.conduction : Infinity;
  const byConvection = law.convection > 0 ? (watts / law.convection) ** 0.8 : Infinity;
  const byRadiation =
    law.radiation > 0
      ? (watts / (law.radiation * STEFAN_BOLTZMANN) + fourth(air)) ** 0.25 - ZERO_CELSIUS_K - air
      : Infinity;
  const rise = Math.min(byConduction, byConvection, byRadiation);
  if (!Number.isFinite(rise)) {
    throw new RangeError(
      'a surface must give off heat by conduction, convection or radiation; this one has none',
    );
  }
  return air + rise * (1 + 1e-9) + 1e-6;
}

function fourth(celsius: number): number {
  const kelvin = celsius + ZERO_CELSIUS_K;
  return kelvin * kelvin * kelvin * kelvin;
}
