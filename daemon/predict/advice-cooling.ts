import type { Design } from '../design/design.js';
import type { Cooling } from '../design/design-cooling.js';
import { BARE_MODULE } from '../design/design-cooling.js';
import { partsOf } from '../design/own-parts.js';
import { interfaceResistance } from '../design/parts/interfaces.js';
import type { AdviceStates } from './advice.js';
import type { CoolingDescription, SupplyDescription } from './engine/supply.js';
import { partWords } from './part-words.js';
import type { Advice } from './prediction.js';
import type { SupplyState } from './supply-state.js';
import { neededHeatsink } from './thermal/junction.js';

const REASON = 'Tj = air + P x (heatsink + interface + junction-case); LM317 datasheet, heatsink equations';

/** A junction beyond its limit at full load: with everything typical it cooks, in the hottest case it comes near. */
export function coolingAdvice(name: string, states: AdviceStates): Advice[] {
  const { design, description, full, fullHot } = states;
  const typical = full.heated.get(name);
  const hottest = fullHot.heated.get(name);
  if (typical === undefined || hottest === undefined) return [];
  const limit = junctionLimitOf(name, description);
  if (hottest.junction <= limit) return [];
  const cooks = typical.junction > limit;
  const cooling = writtenCooling(name, design);
  const bare = cooling.heatsink === 'none';
  const needed = neededSink(name, limit, states);
  const at = cooks ? typical : hottest;
  const where = cooks ? 'at full load' : 'at full load on the highest mains in the hottest air';
  return [
    {
      finding: bare ? 'heatsink-missing' : 'heatsink-small',
      about: name,
      severity: cooks ? 'destroys' : 'misbehaves',
      sentence:
        `The ${partWords(name, design)} of ${name === 'filter' ? 'the filter' : name} turns ${at.watts.toFixed(1)} W into heat ${where}; ${coolsOn(cooling)} its case ` +
        `settles near ${at.case.toFixed(0)} °C and its junction near ${at.junction.toFixed(0)} °C, above ${limit} °C.`,
      numbers: {
        dissipation_W: at.watts,
        air_degC: cooks ? full.air : fullHot.air,
        case_degC: at.case,
        junction_degC: at.junction,
        limit_degC: limit,
        heatsink_KperW: needed,
      },
      reason: REASON,
      cure: cure(needed),
    },
  ];
}

/** Hottest junction that the part is rated for, degrees C; Infinity where its heat isn't known. */
export function junctionLimitOf(name: string, { rails, filter }: SupplyDescription): number {
  if (name === 'filter') return filter?.kind === 'multiplier' ? filter.junctionLimit : Infinity;
  const regulator = rails.find((rail) => rail.name === name)?.regulator;
  return regulator === undefined || regulator.kind === 'given' ? Infinity : regulator.junctionLimit;
}

/** How the engine has a part cooled. @throws {RangeError} for a part that isn't there. */
export function coolingNamed(name: string, { rails, filter }: SupplyDescription): CoolingDescription {
  if (name === 'filter' && filter?.kind === 'multiplier') return filter.cooling;
  const rail = rails.find((each) => each.name === name);
  if (rail === undefined) throw new RangeError(`there is no cooled part "${name}"`);
  return rail.cooling;
}

function writtenCooling(name: string, { rails, filter }: Design): Cooling {
  if (name === 'filter' && filter?.kind === 'multiplier') return filter.cooling;
  return rails[name]?.cooling ?? BARE_MODULE;
}

function coolsOn({ heatsink }: Cooling): string {
  if (heatsink === 'none') return 'without a heatsink';
  if (typeof heatsink === 'number') return `on a ${heatsink} K/W heatsink`;
  return typeof heatsink === 'string' ? `on the shared heatsink ${heatsink}` : 'on its heatsink';
}

/** The most K/W that a heatsink may have in the hottest case, with what else sits on it; none suffices if negative. */
function neededSink(name: string, limit: number, { design, description, fullHot }: AdviceStates): number {
  const { mounting, package: body } = coolingNamed(name, description);
  const watts = fullHot.heated.get(name)?.watts ?? 0;
  const written = writtenCooling(name, design);
  const part = partsOf(design).packages.get(written.package);
  const caseToSink =
    mounting?.interface.typical ??
    interfaceResistance(written.interface, part?.outline ?? written.package).typical;
  const alone = neededHeatsink(limit, fullHot.air, watts, body.junctionToCase.typical, caseToSink);
  return typeof written.heatsink === 'string' && written.heatsink !== 'none'
    ? (alone * watts) / wattsOn(written.heatsink, description, fullHot)
    : alone;
}

/** All the heat that goes into a shared heatsink, W. */
function wattsOn(sink: string, description: SupplyDescription, { heated }: SupplyState): number {
  let watts = 0;
  for (const [name, part] of heated) {
    if (coolingNamed(name, description).mounting?.heatsink === sink) watts += part.watts;
  }
  return watts;
}

function cure(needed: number): string {
  if (needed < 0.5) {
    return 'No heatsink of sensible size is enough: lower the raw volts or the current, or share the heat with a resistor or a second regulator.';
  }
  return (
    `Fit a heatsink of at most ${needed.toPrecision(2)} K/W before switching on ` +
    '(highest mains and hottest air counted in), and keep fingers off: hot parts burn.'
  );
}
