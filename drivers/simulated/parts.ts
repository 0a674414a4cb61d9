/**
 * What the parts on the simulated bench are really like. Kept apart from the part library that predictions use,
 * so that a wrong value there shows as a difference here.
 */

/** Shockley law with an ohmic part: volts = ideality x 25.85 mV x ln(1 + amps / saturationAmps) + ohms x amps. */
export interface DiodeLaw {
  readonly saturationAmps: number;
  readonly ideality: number;
  readonly ohms: number;
}

/** Thermal voltage k T / q at 300 K, V (CODATA constants). */
export const THERMAL_VOLTS = 0.025852;

/** Through 0.925 V at 1 A and 1.4 V at 12 A (Kuphaldt, Lessons in Electric Circuits, 1 A diode model). */
const ONE_AMP_DIODE: DiodeLaw = { saturationAmps: 4.7e-9, ideality: 1.8, ohms: 0.0327 };
/** About 0.89 V at 3 A and 1.04 V at 9 A (from memory: 3 A rectifiers, at most 1.0-1.2 V at 3 A). */
const THREE_AMP_DIODE: DiodeLaw = { saturationAmps: 4.2e-8, ideality: 1.8, ohms: 0.0165 };
/** About 0.9 V at 4 A and 0.97 V at 8 A (GBU8005G-GBU810G datasheet: max 0.95 V at 4 A, 1.0 V at 8 A). */
const BRIDGE_LEG: DiodeLaw = { saturationAmps: 3.5e-8, ideality: 1.8, ohms: 0.009 };
/** About 0.9 V at 10 A (from memory: 25-35 A bridges, 1.1 V a leg at half the rated current at most). */
const LARGE_BRIDGE_LEG: DiodeLaw = { saturationAmps: 1.1e-7, ideality: 1.8, ohms: 0.005 };

/** The diode that carries this part name; a name not known here is taken as a common 1 A rectifier. */
export function diodeLaw(part: string): DiodeLaw {
  if (/^1N540/i.test(part)) return THREE_AMP_DIODE;
  if (/^(GBU|KBU|KBL|GBL)/i.test(part)) return BRIDGE_LEG;
  if (/^(KBPC|GBPC)/i.test(part)) return LARGE_BRIDGE_LEG;
  return ONE_AMP_DIODE;
}

/** One regulator as it is. Volts are magnitudes; `sign` is -1 for a negative rail. */
export interface RegulatorPart {
  readonly sign: 1 | -1;
  /** Adjustable: reference between output and adjust. Fixed: the output. V at 25 degrees C. */
  readonly volts: number;
  readonly adjustable: boolean;
  /** Standard deviation of `volts` from part to part, as a share. */
  readonly voltsSpread: number;
  /** Adjustable: out of the adjust pin. Fixed: out of the ground pin. A. */
  readonly groundAmps: number;
  /** Least input-output difference: at no current (V) and what each ampere adds (ohm). */
  readonly dropoutVolts: number;
  readonly dropoutOhms: number;
  readonly rippleRejection_dB: number;
  /** With a capacitor from adjust to ground; the same for parts without an adjust pin. */
  readonly rippleRejectionWithCapacitor_dB: number;
  /** Change of `volts` with the junction's temperature, share per K. */
  readonly drift_perK: number;
}

/** ST LM317 Rev 19 and TI SLVS044Z; dropout about 2 V at 1 A (from memory; given as a curve only). */
const ADJUSTABLE: RegulatorPart = {
  sign: 1,
  volts: 1.25,
  adjustable: true,
  voltsSpread: 0.01,
  groundAmps: 50e-6,
  dropoutVolts: 1.55,
  dropoutOhms: 0.45,
  rippleRejection_dB: 65,
  rippleRejectionWithCapacitor_dB: 80,
  drift_perK: 0,
};

/** LM7805 Fairchild Rev 1.3.0 (4.8-5.2 V, 5 mA, 2 V at 1 A, 73 dB); drift -1.1 mV/K at 5 V from ST DS0422. */
const FIXED: RegulatorPart = {
  sign: 1,
  volts: 5,
  adjustable: false,
  voltsSpread: 0.012,
  groundAmps: 5e-3,
  dropoutVolts: 1.6,
  dropoutOhms: 0.4,
  rippleRejection_dB: 73,
  rippleRejectionWithCapacitor_dB: 73,
  drift_perK: -0.00022,
};

/** LM1086 / LM1117 class: 1.3-1.5 V at rated current, 5 mA (from memory of several makers' sheets). */
const LOW_DROP: Partial<RegulatorPart> = { dropoutVolts: 0.95, dropoutOhms: 0.25 };

/** The regulators that `regulatorPart` knows, in words. */
export const KNOWN_REGULATORS = 'LM317, LM337, LM1086, LM1117, the 78xx and the 79xx';

/** The regulator that carries this part name; null for a name that isn't known here. */
export function regulatorPart(part: string): RegulatorPart | null {
  const name = part.toUpperCase();
  const fixed = /^(?:L|LM|UA|MC|KA)?7([89])[A-Z]{0,2}(\d\d)/.exec(name);
  if (fixed) return { ...FIXED, sign: fixed[1] === '9' ? -1 : 1, volts: Number(fixed[2]) };
  const lowDrop = /^LM(?:1084|1085|1086|1117|2940)(?:[A-Z]*-(\d+(?:\.\d+)?)|[A-Z]*)/.exec(name);
  if (lowDrop) {
    const type = lowDrop[1] === undefined ? ADJUSTABLE : { ...FIXED, volts: Number(lowDrop[1]) };
    return { ...type, ...LOW_DROP };
  }
  if (/^(?:LM|KA)?(?:1|2|3)(?:17|50|38)/.test(name)) return ADJUSTABLE;
  if (/^(?:LM|KA)?(?:1|2|3)37/.test(name)) return { ...ADJUSTABLE, sign: -1, rippleRejection_dB: 60 };
  return null;
}

/** How a package without a heatsink sheds heat, and what it holds. */
export interface PackagePart {
  /** K/W */
  readonly junctionToCase: number;
  /** J/K */
  readonly junctionCapacity: number;
  readonly caseCapacity: number;
  readonly air: AirCooling;
}

/** Heat to the air at a rise of x kelvins: conduction x + convection x^1.25 + radiation. */
export interface AirCooling {
  /** W/K: leads and board. */
  readonly conduction: number;
  /** W/K^1.25: laminar natural convection, film coefficient as the fourth root of the rise (Holman, table 7-2). */
  readonly convection: number;
  /** m2: surface times emissivity. */
  readonly radiatingArea_m2: number;
}

/**
 * Bare TO-220: junction to case 4 K/W (National DS009063), and about 55 K/W junction to air at an 80 K rise, amid
 * the published 50 (ST, National) and 65 (Fairchild); 1-2 J/K (from memory).
 */
const TO_220: PackagePart = {
  junctionToCase: 4,
  junctionCapacity: 0.05,
  caseCapacity: 1.5,
  air: { conduction: 0.0045, convection: 0.0042, radiatingArea_m2: 3.5e-4 },
};
const TO_220_CASE_TO_AIR = 51;

/** A package that sheds its heat in the same ways as a TO-220, only more of it or less. */
function packageLike(junctionToCase: number, junctionToAir: number, caseCapacity: number): PackagePart {
  const size = TO_220_CASE_TO_AIR / (junctionToAir - junctionToCase);
  const { conduction, convection, radiatingArea_m2 } = TO_220.air;
  return {
    junctionToCase,
    junctionCapacity: TO_220.junctionCapacity,
    caseCapacity,
    air: {
      conduction: conduction * size,
      convection: convection * size,
      radiatingArea_m2: radiatingArea_m2 * size,
    },
  };
}

/** K/W from ST LM317 Rev 19 and DS0422 (junction-case, junction-air) and National DS009063; J/K from memory. */
const PACKAGES: Readonly<Record<string, PackagePart>> = {
  'TO-220': TO_220,
  'TO-220FP': packageLike(5, 60, 1.8),
  'TO-3': packageLike(2, 39, 6),
  'TO-263': packageLike(3, 62.5, 1.2),
  'TO-252': packageLike(8, 100, 0.4),
  'SOT-223': packageLike(23.5, 140, 0.15),
};

/** The package of this name; a name not known here is taken as a TO-220. */
export function packagePart(name: string): PackagePart {
  return PACKAGES[name.toUpperCase()] ?? TO_220;
}

/** Case to heatsink on a TO-220, K/W: ON Semiconductor AN1040/D, table 1; pad and solder from memory. */
const INTERFACES: Readonly<Record<string, number>> = {
  dry: 1.2,
  greased: 1,
  'mica-dry': 3.4,
  'mica-greased': 1.6,
  'silicone-pad': 2,
  soldered: 0.3,
};
/** A TO-3 has several times the area: 0.5 dry and 0.1 greased in the same table. */
const TO_3_SHARE = 0.3;

/** Case to heatsink, K/W; a name not known here counts as greased. */
export function interfaceResistance(name: string, packageName: string): number {
  const resistance = INTERFACES[name] ?? 1;
  return packageName.toUpperCase() === 'TO-3' ? resistance * TO_3_SHARE : resistance;
}

/** Heat capacity times K/W of ordinary small heatsinks, s: five to fifteen minutes (common practice). */
const HEATSINK_SECONDS = 550;
/** The rise at which a heatsink's K/W is taken to hold, K. */
const HEATSINK_RATED_RISE = 40;
/** Share of a heatsink's heat that is radiated at the rated rise (from memory: a fifth to a third, anodised). */
const HEATSINK_RADIATED = 0.25;

const STEFAN_BOLTZMANN = 5.670374e-8;
const ROOM_KELVIN = 298.15;

/** A heatsink's own cooling from its catalogue figure in K/W. */
export function heatsinkCooling(resistance: number): AirCooling {
  const rise = HEATSINK_RATED_RISE;
  const radiatedPerArea = STEFAN_BOLTZMANN * ((ROOM_KELVIN + rise) ** 4 - ROOM_KELVIN ** 4);
  const watts = rise / resistance;
  return {
    conduction: 0,
    convection: ((1 - HEATSINK_RADIATED) * watts) / rise ** 1.25,
    radiatingArea_m2: (HEATSINK_RADIATED * watts) / radiatedPerArea,
  };
}

/** A heatsink's heat capacity, J/K, where the design doesn't say. */
export function heatsinkCapacity(resistance: number): number {
  return HEATSINK_SECONDS / resistance;
}

/** Regulation of small mains transformers by rating, as a share of the rated volts (common practice). */
export function usualRegulation(ratingVA: number): number {
  if (ratingVA <= 3) return 0.35;
  if (ratingVA <= 12) return 0.25;
  if (ratingVA <= 25) return 0.17;
  if (ratingVA <= 50) return 0.13;
  return ratingVA <= 100 ? 0.1 : 0.07;
}

/** Equivalent series resistance of a general-purpose electrolytic, ohm: loss factor about 0.15 at 2f, 100 Hz. */
export function usualSeriesResistance(farads: number): number {
  return 0.15 / (2 * Math.PI * 100 * farads);
}
