import { ampsAt, ampsAndOhms } from '../../design/design-load.js';
import type { Rail } from '../../design/design.js';
import { LOAD_STATES } from '../../design/design.js';
import { partsOf } from '../../design/own-parts.js';
import type { Regulator } from '../../design/parts/regulators.js';
import { E96, nearestInSeries } from '../../design/parts/series.js';
import { partWords, regulatorOf } from '../part-words.js';
import { supplyModel } from '../engine/model.js';
import type { DesignChange } from '../prediction.js';
import { stateAt } from '../supply-state.js';
import type { Candidate, Problem } from './problem.js';
import type { AdviceStates } from './states.js';
import { largerCapacities, ratedWatts, resistorsBetween, WINDING_VOLTS } from './values-to-buy.js';

/** Ripple valley against setting and dropout at full load on the lowest mains. */
export function dropoutProblems(rail: string, states: AdviceStates): Problem[] {
  const { design, mains, fullLow } = states;
  const state = fullLow.rails.get(rail);
  if (state === undefined) return [];
  const needed = state.setVolts + state.dropoutVolts;
  const valley = state.inputValley;
  if (needed <= valley) return [];
  const from = design.rails[rail]?.from ?? 'reservoir';
  const part = partWords(rail, design);
  return [
    {
      finding: 'dropout-at-low-mains',
      about: rail,
      severity: 'misbehaves',
      sentence:
        `At ${mains.low.toFixed(0)} V mains and full load the valley of ${from} is ${valley.toFixed(1)} V at its input; ` +
        `${rail} needs ${needed.toFixed(1)} V (${state.setVolts.toFixed(2)} V and ${state.dropoutVolts.toFixed(1)} V dropout of the ${part}), so it hums.`,
      numbers: { valley_V: valley, needed_V: needed, short_V: needed - valley, mains_Vrms: mains.low },
      reason: `valley = mean - ripple below it; dropout of the ${part} datasheet`,
      ways: waysToLift(rail, from, states),
      otherwise: Object.hasOwn(design.rails, from)
        ? `Take a regulator with a lower dropout, or set ${from} higher.`
        : 'Take a winding of more volts, a larger reservoir or a regulator with a lower dropout.',
    },
  ];
}

/** The smallest larger reservoir, the next winding, and regulators that drop less. */
function waysToLift(rail: string, from: string, { design }: AdviceStates): Candidate[][] {
  const lowDrop = lowDropCandidates(rail, design);
  if (Object.hasOwn(design.rails, from)) return [lowDrop];
  const negative = from === 'negative-reservoir' && design.negative_reservoir !== undefined;
  const key = negative ? 'negative_reservoir.capacity_uF' : 'reservoir.capacity_uF';
  const { capacity_uF } = (negative && design.negative_reservoir) || design.reservoir;
  const { volts } = design.transformer;
  return [
    largerCapacities(capacity_uF).map((larger) => ({
      words: `take a reservoir of at least ${larger} uF`,
      changes: [{ key, value: larger }],
    })),
    [...WINDING_VOLTS.filter((more) => more > volts && more <= 2 * volts)].map((more) => ({
      words: `take a winding of ${more} V`,
      changes: [{ key: 'transformer.volts', value: more }],
    })),
    lowDrop,
  ];
}

/** Regulators of the library that take the place of a rail's, by what is asked of them. */
function regulatorCandidates(
  rail: string,
  design: AdviceStates['design'],
  fits: (part: Regulator, now: Regulator) => boolean,
): Candidate[] {
  const now = regulatorOf(rail, design);
  const written = design.rails[rail];
  if (now === null || written === undefined) return [];
  return [...partsOf(design).regulators.values()]
    .filter((part) => part !== now && takesThePlace(part, now) && fits(part, now))
    .flatMap((part) => {
      const outline = part.packages.find((name) => partsOf(design).packages.has(name));
      const cooled = written.cooling?.package ?? 'TO-220';
      const stays = part.packages.includes(cooled);
      if (!stays && outline === undefined) return [];
      const settings = settingsFor(rail, written, part, now);
      const changes: DesignChange[] = [
        { key: `rails.${rail}.regulator`, value: part.name },
        ...settings,
        ...(stays ? [] : [{ key: `rails.${rail}.cooling.package`, value: outline ?? cooled }]),
      ];
      const [r2] = settings;
      const anew = r2 === undefined ? '' : ` with R2 of ${r2.value} ohm`;
      return [{ words: `take ${article(part.name)} ${part.name}${anew} for ${rail}`, changes }];
    });
}

function article(name: string): string {
  return /^[AEFHILMNORSX8]/.test(name) ? 'an' : 'a';
}

/** Same sort, polarity and, where it is fixed, volts. */
function takesThePlace(part: Regulator, now: Regulator): boolean {
  if (part.kind !== now.kind || part.polarity !== now.polarity) return false;
  return part.kind === 'adjustable' || Math.abs(part.volts.typical / now.volts.typical - 1) < 0.01;
}

interface Setting extends DesignChange {
  readonly value: number;
}

/** R2 anew where the reference differs. */
function settingsFor(rail: string, { r1, r2 }: Rail, part: Regulator, now: Regulator): Setting[] {
  if (part.kind === 'fixed' || r1 === undefined || r2 === undefined) return [];
  const before = now.volts.typical * (1 + r2 / r1) + now.adjustAmps.typical * r2;
  const exact = (before - part.volts.typical) / (part.volts.typical / r1 + part.adjustAmps.typical);
  if (Math.abs(exact / r2 - 1) < 0.005) return [];
  return [{ key: `rails.${rail}.r2`, value: nearestInSeries(exact, E96) }];
}

function lowDropCandidates(rail: string, design: AdviceStates['design']): Candidate[] {
  return regulatorCandidates(
    rail,
    design,
    (part, now) => part.dropout.high < now.dropout.high && part.ratedAmps >= 0.5 * now.ratedAmps,
  );
}

/** Full load against what every sample of the regulator gives. */
export function regulatorAmpsProblems(rail: string, { design, full }: AdviceStates): Problem[] {
  const regulator = regulatorOf(rail, design);
  const amps = full.rails.get(rail)?.outputAmps ?? 0;
  if (regulator === null || amps <= regulator.ratedAmps) return [];
  return [
    {
      finding: 'regulator-current',
      about: rail,
      severity: 'misbehaves',
      sentence: `The regulator of ${rail} gives ${amps.toFixed(2)} A at full load; a ${regulator.name} is sure of ${regulator.ratedAmps} A only, and may limit.`,
      numbers: { load_A: amps, rated_A: regulator.ratedAmps },
      reason: `output current of the ${regulator.name} datasheet`,
      ways: [regulatorCandidates(rail, design, (part) => part.ratedAmps >= amps)],
      otherwise: 'Take a stronger regulator, or split the load over two.',
    },
  ];
}

/** Idle load against what the regulator needs to stay in regulation. */
export function minimumLoadProblems(rail: string, states: AdviceStates): Problem[] {
  const { design, full } = states;
  const regulator = regulatorOf(rail, design);
  const written = design.rails[rail];
  const volts = full.rails.get(rail)?.setVolts;
  if (regulator === null || written === undefined || volts === undefined) return [];
  const divider = regulator.kind === 'adjustable' ? regulator.volts.typical / (written.r1 ?? Infinity) : 0;
  const amps = ampsAt(written.load.idle, volts) + divider + fedWhenIdle(rail, states);
  const needed = regulator.minimumLoad.high;
  if (amps >= needed) return [];
  return [
    {
      finding: 'minimum-load',
      about: rail,
      severity: 'note',
      sentence: `${rail} draws ${(amps * 1e3).toFixed(1)} mA when idle; some samples of the ${regulator.name} need ${(needed * 1e3).toFixed(0)} mA to hold their volts, and rise above without.`,
      numbers: { idle_A: amps, minimum_A: needed },
      reason: `minimum load of the ${regulator.name} datasheet, worst sample; the divider's current counts`,
      ways: [
        regulator.kind === 'adjustable' ? smallerDivider(rail, written, regulator, needed) : [],
        loadResistors(rail, written, volts, needed - amps),
      ],
      otherwise: 'Add a resistor across the output.',
    },
  ];
}

/** What the rails that hang on this one draw from it with every load idle, A. */
function fedWhenIdle(rail: string, { design, description }: AdviceStates): number {
  const fed = Object.keys(design.rails).filter((name) => design.rails[name]?.from === rail);
  if (fed.length === 0) return 0;
  const { rails } = stateAt(supplyModel(description, 'idle'), {});
  return fed.reduce((sum, name) => sum + (rails.get(name)?.inputAmps ?? 0), 0);
}

/** R1 and R2 smaller together, so that the divider alone draws what is needed. */
function smallerDivider(rail: string, { r1, r2 }: Rail, part: Regulator, needed: number): Candidate[] {
  if (r1 === undefined || r2 === undefined) return [];
  const most = part.volts.typical / needed;
  const set = part.volts.typical * (1 + r2 / r1) + part.adjustAmps.typical * r2;
  return resistorsBetween(most / 3, most).map((smaller) => {
    const exact = (set - part.volts.typical) / (part.volts.typical / smaller + part.adjustAmps.typical);
    const other = nearestInSeries(exact, E96);
    return {
      words: `take ${smaller} ohm for R1 and ${other} ohm for R2 of ${rail}`,
      changes: [
        { key: `rails.${rail}.r1`, value: smaller },
        { key: `rails.${rail}.r2`, value: other },
      ],
    };
  });
}

/** A resistor across the output that draws what is missing. */
function loadResistors(rail: string, { load }: Rail, volts: number, short: number): Candidate[] {
  const most = volts / short;
  return resistorsBetween(most / 3, most).map((ohms) => ({
    words: `put ${ohms} ohm, ${ratedWatts(volts ** 2 / ohms)} W across the output of ${rail}`,
    changes: LOAD_STATES.map((state) => {
      const drawn = ampsAndOhms(load[state]);
      const beside = 1 / (1 / drawn.ohms + 1 / ohms);
      return { key: `rails.${rail}.load.${state}`, value: { amps: drawn.amps, ohms: beside } };
    }),
  }));
}
