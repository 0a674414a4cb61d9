import { adjustedVolts, regulatorNamed, REGULATORS, type Regulator } from './parts/regulators.js';
import { diodeNamed } from './parts/diodes.js';
import { E96, nearestInSeries } from './parts/series.js';
import { windingOf } from './parts/transformers.js';
import { unloadedPeak } from './raw-peak.js';

/** What a person answers about a supply that doesn't have a file yet. */
export interface NewDesign extends NewSource {
  readonly name: string;
  readonly rails: readonly NewRail[];
}

export interface NewSource {
  readonly mains: 230 | 120;
  /** Secondary RMS at rated load, V. */
  readonly volts: number;
  readonly va: number;
  readonly capacity_uF: number;
}

export interface NewRail {
  readonly name: string;
  readonly volts: number;
  /** Name of a part of the library. */
  readonly regulator: string;
  readonly idle: number;
  readonly typical: number;
  readonly full: number;
  /** K/W. */
  readonly heatsink: number | 'none';
  /** Most volts that the load survives. */
  readonly high: number;
}

/** R1 of adjustable regulators, as in the LM317 datasheets' figures, ohm. */
const R1 = 240;
/** The rectifier that is written, and how far a fixed output may be from what was asked, as a share. */
const DIODE = '1N4007';
const LARGE_DIODE = 'KBPC25';
const FIXED_MISS = 0.03;

/** The bridge for this much current: single diodes up to 1 A of direct current. */
function bridgeFor(amps: number): string {
  return amps > 1 ? LARGE_DIODE : DIODE;
}

/** Preferred values miss the volts asked for by up to this share. */
const SERIES_MISS = 0.02;

/** Highest volts of a rail on this source with nothing drawn. */
export function highestRail(source: Pick<NewSource, 'volts' | 'va'>, regulator: Regulator): number {
  return (unloadedVolts(source) - regulator.dropout.typical) * (1 - SERIES_MISS);
}

/** Unloaded reservoir at nominal mains behind a bridge, V. */
function unloadedVolts({ volts, va }: Pick<NewSource, 'volts' | 'va'>): number {
  const law = diodeNamed(DIODE).law;
  return unloadedPeak(windingOf({ volts, va }, 'bridge'), { kind: 'bridge', law });
}

/** Whether a regulator can make these volts from this source. */
export function makes(regulator: Regulator, volts: number, source: NewSource): boolean {
  if (regulator.polarity === 'negative' || volts > highestRail(source, regulator)) return false;
  const { typical } = regulator.volts;
  return regulator.kind === 'fixed' ? Math.abs(typical / volts - 1) <= FIXED_MISS : volts >= typical;
}

/** The regulator to take for these volts and amps: a fixed one where one fits, else an adjustable one large enough. */
export function suggestedRegulator(volts: number, amps: number, source: NewSource): string {
  const fixed = `78${String(Math.round(volts)).padStart(2, '0')}`;
  const usual = [fixed, 'LM317', 'LM350', 'LM338'].flatMap((name) => REGULATORS.get(name) ?? []);
  const fits = usual.find((part) => makes(part, volts, source) && part.ratedAmps >= amps);
  return (fits ?? [...REGULATORS.values()].find((part) => makes(part, volts, source)))?.name ?? 'LM317';
}

/** R2 of an adjustable regulator from the E96 series, ohm: (V - Vref) / (Vref / R1 + Iadj). */
export function r2For(volts: number, { volts: reference, adjustAmps }: Regulator): number {
  const exact = (volts - reference.typical) / (reference.typical / R1 + adjustAmps.typical);
  return nearestInSeries(Math.max(1, exact), E96);
}

/** Sizes one can buy (common practice), K/W. */
const HEATSINKS = [25, 20, 15, 12, 10, 8, 6, 5, 4, 3, 2, 1.5, 1];
/** Junction to aim at, air inside on a hot day (degrees C), and K/W from junction to heatsink of a TO-220. */
const AIM = { junction: 110, air: 45, junctionToSink: 6.5 };
/** Heat that a bare TO-220 bears, W: 50 K/W or so to the air. */
const BARE_WATTS = 0.8;

/** The heatsink to take: from the heat at full load and highest mains, by the LM317 datasheet's heatsink equations. */
export function suggestedHeatsink(volts: number, amps: number, source: NewSource): number | 'none' {
  const watts = Math.max(0, unloadedVolts(source) * 1.1 - volts) * amps;
  if (watts <= BARE_WATTS) return 'none';
  const needed = (AIM.junction - AIM.air) / watts - AIM.junctionToSink;
  return HEATSINKS.find((size) => size <= needed) ?? 1;
}

/** A text in YAML's quotes. */
function quoted(text: string): string {
  return `'${text.replaceAll("'", "''")}'`;
}

/** The commented `*.design.yaml` of these answers; it loads as it is. */
export function designText(design: NewDesign): string {
  const amps = design.rails.reduce((sum, { full }) => sum + full, 0);
  return `# The supply of ${design.name.replace(/\s+/g, ' ')}. Lines with a "#" are remarks; indent with blanks.
# Correct whatever isn't so, then ask: railminder predict FILE
#
# MAINS KILLS. Only people who are allowed to work on mains wiring open the primary side; the rules of your
# country go before anything written here.

design: ${quoted(design.name)}

mains:
  volts: ${design.mains} # RMS, as on the transformer's label
  hertz: ${design.mains === 230 ? 50 : 60}
  tolerance: ${design.mains === 230 ? 'EN 50160' : 'ANSI C84.1'} # how far the mains may be off
  ambient: { typical: 22, highest: 35 } # air around the box, degrees C
  enclosure_rise: 5 # how much warmer it is inside, K

transformer:
  volts: ${design.volts} # secondary RMS at full load, as on the label
  va: ${design.va}
  # regulation_percent: 12 # how much more it gives unloaded; the usual for its size is taken without it

rectifier:
  kind: bridge # or centre-tap, half-wave, split-bridge
  diode: ${bridgeFor(amps)}

reservoir:
  capacity_uF: ${design.capacity_uF}
  # working_volts: 35 # what is printed on it; write it down and it is checked
  bleed: 4700 # empties it after switching off, ohm; measure before you touch

rails:
${design.rails.map(railText).join('\n')}`;
}

/** A rail with its remarks, indented as below `rails:`; ends with a line end. */
export function railText(rail: NewRail): string {
  const part = regulatorNamed(rail.regulator);
  return `  ${rail.name}:
    regulator: '${rail.regulator}'
${part.kind === 'adjustable' ? dividerText(rail.volts, part) : ''}    cooling:
      package: ${part.packages[0] ?? 'TO-220'}
      interface: greased # mica-greased where the tab must be kept off the metalwork
      heatsink: ${rail.heatsink} # K/W to air, from its label; "none" for a bare package
    load: { idle: ${rail.idle}, typical: ${rail.typical}, full: ${rail.full} } # amps
    damage: { high: ${rail.high} } # volts above which the load is harmed
`;
}

function dividerText(volts: number, part: Regulator): string {
  const r2 = r2For(volts, part);
  const { typical: reference } = part.volts;
  const { typical: adjust } = part.adjustAmps;
  const gives = adjustedVolts(reference, R1, r2, adjust).toFixed(2);
  const micro = Math.round(adjust * 1e6);
  return `    r1: ${R1} # output to adjust, ohm
    r2: ${r2} # adjust to ground: ${reference} V x (1 + ${r2} / ${R1}) + ${micro} uA x ${r2} ohm = ${gives} V
`;
}
