import type { Design } from '../../design/design.js';
import { SupplyError } from '../engine/supply-error.js';
import { supplyModel } from '../engine/model.js';
import { figuresOf } from '../figures.js';
import type { Advice, PredictOptions } from '../prediction.js';
import { coolingProblems, touchProblems } from './cooling.js';
import type { Judged } from './cures.js';
import { curesOf } from './cures.js';
import { dischargeProblems } from './discharge.js';
import { fuseProblems } from './fuse.js';
import type { Problem } from './problem.js';
import { dropoutProblems, minimumLoadProblems, regulatorAmpsProblems } from './rail.js';
import {
  capacitorAmpsProblems,
  capacitorVoltsProblems,
  inputVoltsProblems,
  transformerProblems,
} from './raw.js';
import { readyFor } from './ready.js';
import { rectifierProblems } from './rectifier.js';
import { shortedRegulatorProblems } from './shorted-regulator.js';
import { seriesResistorProblems } from './series-resistor.js';
import type { AdviceStates } from './states.js';
import { statesOf } from './states.js';

const ORDER = ['destroys', 'misbehaves', 'note', 'ready'] as const;

/**
 * What the person should know, change or have ready before power, most destructive first. Every cure that changes the
 * design has been put into it and predicted again.
 * @throws {SupplyError} as the model does.
 */
export function adviceOn(design: Design, options: PredictOptions): Advice[] {
  const before = judged(statesOf(design, options));
  const parts = figuresOf(supplyModel(before.states.description, 'full'));
  const judge = (changed: Design) => tryJudging(changed, options);
  const advice = [
    ...saidOnce(before.problems).map((problem) => advised(problem, before, judge)),
    ...readyFor(before.states, parts),
  ];
  return advice.sort((a, b) => ORDER.indexOf(a.severity) - ORDER.indexOf(b.severity));
}

function judged(states: AdviceStates): Judged {
  return { states, problems: problemsOf(states) };
}

/** A change that leaves a supply without a steady state cures nothing. */
function tryJudging(design: Design, options: PredictOptions): Judged | null {
  try {
    return judged(statesOf(design, options));
  } catch (error) {
    if (error instanceof SupplyError) return null;
    throw error;
  }
}

/** A part that cooks burns fingers too: that needs no word of its own. */
function saidOnce(problems: readonly Problem[]): readonly Problem[] {
  const cooks = problems.filter(({ finding }) => finding.startsWith('heatsink-')).map(({ about }) => about);
  return problems.filter(({ finding, about }) => finding !== 'touch-temperature' || !cooks.includes(about));
}

function problemsOf(states: AdviceStates): Problem[] {
  const rails = Object.keys(states.design.rails);
  const reservoirs = [...states.full.reservoirs.keys()];
  const heated = [...states.full.heated.keys()];
  return [
    ...heated.flatMap((part) => coolingProblems(part, states)),
    ...reservoirs.flatMap((reservoir) => capacitorVoltsProblems(reservoir, states)),
    ...rails.flatMap((rail) => inputVoltsProblems(rail, states)),
    ...rectifierProblems(states),
    ...transformerProblems(states),
    ...rails.flatMap((rail) => dropoutProblems(rail, states)),
    ...reservoirs.flatMap((reservoir) => capacitorAmpsProblems(reservoir, states)),
    ...rails.flatMap((rail) => regulatorAmpsProblems(rail, states)),
    ...rails.flatMap((rail) => seriesResistorProblems(rail, states)),
    ...rails.flatMap((rail) => shortedRegulatorProblems(rail, states)),
    ...rails.flatMap((rail) => minimumLoadProblems(rail, states)),
    ...reservoirs.flatMap((reservoir) => dischargeProblems(reservoir, states)),
    ...fuseProblems(states),
    ...heated.flatMap((part) => touchProblems(part, states)),
  ];
}

function advised(
  { ways, otherwise, besides, ...finding }: Problem,
  before: Judged,
  judge: (design: Design) => Judged | null,
): Advice {
  const cures = curesOf({ ways, otherwise, ...finding }, before, judge);
  const words = cures.map(({ words: what, worsens }) =>
    worsens.length === 0 ? what : `${what} (but then ${lowered(worsens.join(' ')).replace(/\.$/, '')})`,
  );
  const offered = words.length === 0 ? otherwise : sentenceOf(words);
  return { ...finding, cure: besides === undefined ? offered : `${offered} ${besides}`.trim(), cures };
}

function lowered(words: string): string {
  return `${words.charAt(0).toLowerCase()}${words.slice(1)}`;
}

function sentenceOf(ways: readonly string[]): string {
  const sentence = ways.join('; or ');
  return `${sentence.charAt(0).toUpperCase()}${sentence.slice(1)}.`;
}
