import { airAt, channelFilm, simplifiedFilm } from './film.js';
import { surfaceResistance } from './surface.js';
import type { SurfaceLaw } from './surface.js';

/** Surface of a heatsink. */
export type Finish = 'bare' | 'anodised' | 'painted';

/** Emissivities: textbook tables, from memory. Bare aluminium as extruded. */
const EMISSIVITY: Readonly<Record<Finish, number>> = { bare: 0.09, anodised: 0.85, painted: 0.9 };

/** Aluminium: conductivity of a common extrusion alloy, W/(m·K) (from memory), and heat capacity by volume, J/(m³·K). */
const ALUMINIUM_CONDUCTIVITY = 200;
const ALUMINIUM_VOLUMETRIC = 900 * 2700;

/** Natural convection of fins that lie flat, against upright ones: common practice, about a fifth less. */
const LYING_SHARE = 0.8;

/** A flat sheet with both faces in the air. Lengths in m. */
export interface PlateHeatsink {
  readonly kind: 'plate';
  /** Upright: its height. */
  readonly length: number;
  readonly width: number;
  readonly thickness: number;
  readonly orientation: 'vertical' | 'horizontal';
  readonly finish: Finish;
}

/** A block with straight fins on one face. Lengths in m. */
export interface FinnedHeatsink {
  readonly kind: 'finned';
  /** Along the fins; upright: its height. */
  readonly length: number;
  /** Across the fins. */
  readonly width: number;
  readonly baseThickness: number;
  /** From base to tip. */
  readonly finHeight: number;
  readonly finThickness: number;
  readonly finCount: number;
  /** The back of the base stands free in the air too; not so when it is screwed to a wall or faces a board. */
  readonly backFree: boolean;
  readonly orientation: 'vertical' | 'horizontal';
  readonly finish: Finish;
}

export type HeatsinkSize = PlateHeatsink | FinnedHeatsink;

/**
 * How a heatsink of this size gives heat to still air. Convection is worked out at a rise of `rise` K over `air` °C and
 * carried to other rises as ΔT^1.25, so give about the rise that you expect; within a factor of two of it a plate is
 * exact and a finned block good to some percent. The metal is taken as one temperature but for the fins' efficiency.
 */
export function heatsinkSurface(size: HeatsinkSize, rise: number, air: number): SurfaceLaw {
  const convected = size.kind === 'plate' ? plateConvection(size, rise) : finnedConvection(size, rise, air);
  return {
    conduction: 0,
    convection: convected / rise ** 0.25,
    radiation: EMISSIVITY[size.finish] * envelopeArea(size),
  };
}

/** Heatsink to air at a rise (K) over the air (°C), K/W. */
export function heatsinkResistance(size: HeatsinkSize, rise: number, air: number): number {
  return surfaceResistance(heatsinkSurface(size, rise, air), rise, air);
}

/** Heat capacity of the aluminium, J/K: 900 J/(kg·K) (handbook value) and 2700 kg/m³. */
export function heatsinkCapacity(size: HeatsinkSize): number {
  if (size.kind === 'plate') return ALUMINIUM_VOLUMETRIC * size.length * size.width * size.thickness;
  const section = size.width * size.baseThickness + size.finCount * size.finHeight * size.finThickness;
  return ALUMINIUM_VOLUMETRIC * size.length * section;
}

/** W/K by convection. */
function plateConvection(size: PlateHeatsink, rise: number): number {
  const area = size.length * size.width;
  if (size.orientation === 'vertical') return 2 * area * simplifiedFilm('vertical', rise, size.length);
  const shorter = Math.min(size.length, size.width);
  return area * (simplifiedFilm('face-up', rise, shorter) + simplifiedFilm('face-down', rise, shorter));
}

/** W/K by convection: channels, outer faces of the end fins, a free back of the base. */
function finnedConvection(size: FinnedHeatsink, rise: number, air: number): number {
  const { length, width, finHeight, finThickness, finCount } = size;
  const spacing = (width - finCount * finThickness) / (finCount - 1);
  if (!(finCount >= 2) || !(spacing > 0)) {
    throw new RangeError(
      `${finCount} fins of ${finThickness} m don't fit ${width} m of width with air between them; check the heatsink's size`,
    );
  }
  const between = channelFilm(airAt(air + rise / 2), rise, spacing, length);
  const outside = simplifiedFilm('vertical', rise, length);
  const inner = 2 * (finCount - 1) * finHeight * length * between * finEfficiency(size, between);
  const floor = (finCount - 1) * spacing * length * between;
  const outer = 2 * finHeight * length * outside * finEfficiency(size, outside);
  const back = size.backFree ? width * length * outside : 0;
  return (inner + floor + outer + back) * (size.orientation === 'vertical' ? 1 : LYING_SHARE);
}

/** tanh(mH)/(mH) with m = √(2h/(k·t)): straight fin with an idle tip (textbook). */
function finEfficiency(size: FinnedHeatsink, film: number): number {
  const slimness = size.finHeight * Math.sqrt((2 * film) / (ALUMINIUM_CONDUCTIVITY * size.finThickness));
  return Math.tanh(slimness) / slimness;
}

/** What the surroundings see, m²: both faces of a plate, the box around a finned block (fins see mostly each other). */
function envelopeArea(size: HeatsinkSize): number {
  const { length, width } = size;
  if (size.kind === 'plate') return 2 * length * width;
  const depth = size.baseThickness + size.finHeight;
  const faces = size.backFree ? 2 : 1;
  return faces * length * width + 2 * depth * (length + width);
}
