import { STEFAN_BOLTZMANN, ZERO_CELSIUS_K } from './surface.js';

/** How a plate stands: a horizontal one with its hot face up or down. */
export type PlateFace = 'vertical' | 'face-up' | 'face-down';

/** Air at one temperature. */
export interface AirProperties {
  /** W/(m·K). */
  readonly conductivity: number;
  /** m²/s. */
  readonly kinematicViscosity: number;
  /** m²/s. */
  readonly diffusivity: number;
  readonly prandtl: number;
  /** Volume expansion, 1/K. */
  readonly expansion: number;
}

const GRAVITY = 9.81;

/**
 * Dry air at 1 bar: at 300 K 0.0263 W/(m·K), 15.89e-6 m²/s, Pr 0.707 (Incropera and DeWitt, Table A.4, from
 * memory), carried to other temperatures by powers that meet the same table at 400 K within 1 %.
 */
export function airAt(celsius: number): AirProperties {
  const ratio = (celsius + ZERO_CELSIUS_K) / 300;
  const kinematicViscosity = 15.89e-6 * ratio ** 1.77;
  const prandtl = 0.707 * ratio ** -0.085;
  return {
    conductivity: 0.0263 * ratio ** 0.88,
    kinematicViscosity,
    diffusivity: kinematicViscosity / prandtl,
    prandtl,
    expansion: 1 / (celsius + ZERO_CELSIUS_K),
  };
}

/** Rayleigh number of a rise (K) over a length (m): gβΔT·L³/(να). */
export function rayleigh(air: AirProperties, rise: number, length: number): number {
  return (GRAVITY * air.expansion * rise * length ** 3) / (air.kinematicViscosity * air.diffusivity);
}

/**
 * Simplified films for air, W/(m²·K), rise in K, length in m: vertical 1.42(ΔT/L)^0.25 (quoted in many handbooks),
 * face up 1.32(ΔT/L)^0.25, face down 0.59(ΔT/L)^0.25; past a Rayleigh number of 1e9 turbulent 1.31ΔT^(1/3) and, face
 * up, 1.52ΔT^(1/3) (Holman, Heat Transfer, Table 7-2, from memory).
 */
export function simplifiedFilm(face: PlateFace, rise: number, length: number): number {
  const laminar = (rise / length) ** 0.25;
  if (face === 'face-down') return 0.59 * laminar;
  const turbulent = rayleigh(airAt(25 + rise / 2), rise, length) > 1e9;
  if (face === 'vertical') return turbulent ? 1.31 * Math.cbrt(rise) : 1.42 * laminar;
  return turbulent ? 1.52 * Math.cbrt(rise) : 1.32 * laminar;
}

/**
 * Nusselt number of a vertical plate, laminar: 0.68 + 0.670·Ra^¼/[1 + (0.492/Pr)^(9/16)]^(4/9)
 * (Churchill and Chu 1975; some lecture notes print 0.663 for 0.670).
 */
export function churchillChu(rayleighNumber: number, prandtl: number): number {
  return 0.68 + (0.67 * rayleighNumber ** 0.25) / (1 + (0.492 / prandtl) ** (9 / 16)) ** (4 / 9);
}

/**
 * Film between parallel vertical plates of equal temperature, W/(m²·K), from their spacing and length (m):
 * Nu = [576/El² + 2.873/√El]^(−1/2), El = Ra(spacing)·spacing/length (Bar-Cohen and Rohsenow 1984).
 */
export function channelFilm(air: AirProperties, rise: number, spacing: number, length: number): number {
  const elenbaas = (rayleigh(air, rise, spacing) * spacing) / length;
  const nusselt = (576 / elenbaas ** 2 + 2.873 / Math.sqrt(elenbaas)) ** -0.5;
  return (nusselt * air.conductivity) / spacing;
}

/** Radiation as a film, W/(m²·K): ε·σ·(Ts² + Ta²)(Ts + Ta) in kelvin (textbook), temperatures here in °C. */
export function radiationFilm(emissivity: number, surface: number, surroundings: number): number {
  const hot = surface + ZERO_CELSIUS_K;
  const cold = surroundings + ZERO_CELSIUS_K;
  return emissivity * STEFAN_BOLTZMANN * (hot * hot + cold * cold) * (hot + cold);
}
