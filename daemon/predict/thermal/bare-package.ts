import { STEFAN_BOLTZMANN, ZERO_CELSIUS_K } from './surface.js';
import type { SurfaceLaw } from './surface.js';

/** What is known of a package in free air. */
export interface BarePackage {
  /** Published junction to air, K/W. */
  readonly junctionToAir: number;
  /** Published junction to case, K/W. */
  readonly junctionToCase: number;
  /** m²; about 6e-4 for a TO-220 (both faces and the rim, from its outline). */
  readonly radiatingArea: number;
  /** 0.6 to 0.9: plastic and tinned tab together. From memory. */
  readonly emissivity: number;
  /** Into leads and board, W/K; 0.003 to 0.008 for three leads in a small board. From memory. */
  readonly conduction: number;
}

/** The rise of the case that published junction-to-air figures are taken to hold at, K: about 1 W into a TO-220. */
export const PUBLISHED_RISE = 50;

/**
 * Surface of a bare package's case, such that at a rise of `atRise` over air at 25 °C all three ways together
 * make the published junction-to-air resistance less junction-to-case; what radiation and leads
 * don't carry there is convection ∝ ΔT^1.25. At other powers the K/W then changes as still air's does.
 */
export function barePackageSurface(part: BarePackage, atRise: number = PUBLISHED_RISE): SurfaceLaw {
  const caseToAir = part.junctionToAir - part.junctionToCase;
  const radiation = part.emissivity * part.radiatingArea;
  const air = 25 + ZERO_CELSIUS_K;
  const radiated = radiation * STEFAN_BOLTZMANN * ((air + atRise) ** 4 - air ** 4);
  const convected = atRise / caseToAir - radiated - part.conduction * atRise;
  if (!(caseToAir > 0) || !(convected > 0)) {
    throw new RangeError(
      `a package of ${part.junctionToAir} K/W to air with ${part.junctionToCase} K/W inside leaves nothing for convection beside ` +
        `${part.radiatingArea} m² of emissivity ${part.emissivity} and ${part.conduction} W/K in its leads; check these`,
    );
  }
  return { conduction: part.conduction, convection: convected / atRise ** 1.25, radiation };
}
