import type { Design } from '../../design/design.js';
import type { Cooling } from '../../design/design-cooling.js';
import { BARE_MODULE } from '../../design/design-cooling.js';
import { partsOf } from '../../design/own-parts.js';
import { interfaceResistance } from '../../design/parts/interfaces.js';
import { coolingNamed, junctionLimitOf } from '../described-parts.js';
import type { SupplyDescription } from '../engine/supply.js';
import { partWords } from '../part-words.js';
import type { DesignChange } from '../prediction.js';
import type { SupplyState } from '../supply-state.js';
import { neededHeatsink } from '../thermal/junction.js';
import type { Candidate, Problem } from './problem.js';
import { seriesCandidates } from './series-resistor.js';
import type { AdviceStates } from './states.js';
import { HEATSINKS, WINDING_VOLTS } from './values-to-buy.js';

const REASON = 'Tj = air + P x (heatsink + interface + junction-case); LM317 datasheet, heatsink equations';

/** A junction beyond its limit at full load: with everything typical it cooks, in the hottest case it comes near. */
export function coolingProblems(name: string, states: AdviceStates): Problem[] {
  const { design, description, full, fullHot } = states;
  const typical = full.heated.get(name);
  const hottest = fullHot.heated.get(name);
  if (typical === undefined || hottest === undefined) return [];
  const limit = junctionLimitOf(name, description);
  if (hottest.junction <= limit) return [];
  const cooks = typical.junction > limit;
  const cooling = writtenCooling(name, design);
  const needed = neededSink(name, limit, states);
  const at = cooks ? typical : hottest;
  const where = cooks ? 'at full load' : 'at full load on the highest mains in the hottest air';
  return [
    {
      finding: cooling.heatsink === 'none' ? 'heatsink-missing' : 'heatsink-small',
      about: name,
      severity: cooks ? 'destroys' : 'misbehaves',
      sentence:
        `The ${calledPart(name, design)} turns ${at.watts.toFixed(1)} W into heat ${where}; ${coolsOn(cooling)} its case ` +
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
      ways: waysToCool(name, needed, states),
      otherwise:
        'No heatsink of sensible size is enough: lower the raw volts or the current, or share the heat with a second regulator.',
      besides: 'Keep fingers off: hot parts burn.',
    },
  ];
}

/** Smooth bare metal of 70 °C burns after about a second (EN 563 and ISO 13732-1, burn thresholds), degrees C. */
const BURNS_AT = 70;

/** A surface that burns skin, at full load on the highest mains in the hottest air. */
export function touchProblems(name: string, states: AdviceStates): Problem[] {
  const { design, fullHot } = states;
  const heat = fullHot.heated.get(name);
  if (heat === undefined || heat.case <= BURNS_AT) return [];
  return [
    {
      finding: 'touch-temperature',
      about: name,
      severity: 'note',
      sentence: `The case of the ${calledPart(name, design)} may settle near ${heat.case.toFixed(0)} °C; bare metal of ${BURNS_AT} °C burns skin within about a second.`,
      numbers: { case_degC: heat.case, heatsink_degC: heat.heatsink, burns_degC: BURNS_AT },
      reason:
        'burn threshold of smooth bare metal, EN 563 and ISO 13732-1; full load, highest mains, hottest air',
      ways: [],
      otherwise:
        'Keep fingers and insulation off it, let it cool before you touch it, and guard it where others can reach.',
    },
  ];
}

function calledPart(name: string, design: Design): string {
  return `${partWords(name, design)} of ${name === 'filter' ? 'the filter' : name}`;
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

/** A heatsink; a resistor that takes some of the heat; where no heatsink does it, both, or fewer raw volts. */
function waysToCool(name: string, needed: number, states: AdviceStates): Candidate[][] {
  const { design } = states;
  const sinks = sinkCandidates(name, design);
  const resistors = seriesCandidates(name, states);
  const fitting = sinks.filter(({ kelvinPerWatt }) => kelvinPerWatt <= needed);
  if (fitting.length > 0) return [fitting, resistors];
  const both = resistors.flatMap((resistor) =>
    sinks.map(({ words, changes }) => ({
      words: `${resistor.words} and ${words}`,
      changes: [...resistor.changes, ...changes],
    })),
  );
  const { volts } = design.transformer;
  const windings = WINDING_VOLTS.filter((fewer) => fewer < volts)
    .reverse()
    .map((fewer) => ({
      words: `take a winding of ${fewer} V`,
      changes: [{ key: 'transformer.volts', value: fewer }],
    }));
  return [resistors, both.slice(0, MOST_PAIRS), windings];
}

/** Enough to find one, few enough not to keep a person waiting. */
const MOST_PAIRS = 40;

function sinkCandidates(name: string, design: Design): (Candidate & { readonly kelvinPerWatt: number })[] {
  const { heatsink } = writtenCooling(name, design);
  const shared = typeof heatsink === 'string' && heatsink !== 'none';
  const key = shared
    ? `heatsinks.${heatsink}`
    : name === 'filter'
      ? 'filter.cooling.heatsink'
      : `rails.${name}.cooling.heatsink`;
  const unwritten = unwrittenCooling(name, design);
  return HEATSINKS.map((kelvinPerWatt) => ({
    kelvinPerWatt,
    words: `fit a ${shared ? 'shared ' : ''}heatsink of at most ${kelvinPerWatt} K/W`,
    changes: [...unwritten, { key, value: kelvinPerWatt }],
  }));
}

/** What a module that came without a word on its cooling needs beside a heatsink. */
function unwrittenCooling(name: string, { rails }: Design): DesignChange[] {
  if (name === 'filter' || rails[name]?.cooling !== undefined) return [];
  return (['package', 'interface'] as const).map((key) => ({
    key: `rails.${name}.cooling.${key}`,
    value: BARE_MODULE[key],
  }));
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
