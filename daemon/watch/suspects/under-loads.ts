import type { LoadState } from '../../design/design.js';
import { OTHER_ACTION, actionOn } from './actions.js';
import { HEALTHY } from './clouds.js';
import { evidenceOf } from './evidence.js';
import {
  isSameSuspect,
  type Judgement,
  type OtherLoad,
  type Suspect,
  type SuspectName,
} from './judgement.js';
import { testPoints, type SuspectDistribution, type SuspectModel } from './model.js';
import { nextPoint } from './next-point.js';
import { logOfSum } from './normal-mixture.js';
import { parametersOf } from './parameters.js';
import { posterior, type Posterior } from './posterior.js';
import { marksOf, type Mark, type Settled } from './settled.js';

/** The suspects of a supply while this load is on. */
export interface LoadModel {
  /** Null where there is only one. */
  readonly load: LoadState | null;
  /** Probability that this load is on before anything was read; they sum to 1. */
  readonly share: number;
  readonly model: SuspectModel;
}

/** As many suspects as a person follows. */
const EXPLAINED = 5;
/** Readings that are less than so many times likelier with one suspect than with another leave both (Jeffreys). */
const TOLD_APART = 10;

/**
 * As `judge`, for a supply of which nobody said for certain how much it feeds: a fault under one load and none under
 * another are weighed against each other. Evidence and advice are those under the load that speaks most for each.
 * @param models the load that is said to be on first
 */
export function judgeUnderLoads(
  models: readonly LoadModel[],
  settled: readonly Settled[],
  candidates?: ReadonlySet<string>,
): Judgement {
  const weighed = weigh(models, settled);
  const likeliest = weighed.reduce((best, each) => (each.probability > best.probability ? each : best));
  const { model, marks, found } = likeliest;
  const next = nextPoint(model, marks, found, candidates ?? testPoints(model));
  const ranking = ranked(weighed);
  const leadingFault = ranking.find(({ fault }) => fault !== HEALTHY);
  const suspects = ranking.map((each, rank): Suspect => {
    const { fault, about, title, probability } = each;
    const evidence = rank < EXPLAINED ? evidenceFor(each, leadingFault) : [];
    const suspect = { fault, about, title, probability, evidence, action: actionOn(fault) };
    return rank > 0 || next !== null ? suspect : { ...suspect, alike: alikeWith(each, ranking) };
  });
  return {
    suspects,
    other: {
      probability: weighed.reduce((sum, each) => sum + each.probability * each.found.other, 0),
      action: OTHER_ACTION,
    },
    next,
    odd: marks.flatMap(({ place }, row) => (found.odd[row]! > 0.5 ? [model.points[place]!.id] : [])),
    parameters: parametersOf(found, marks, model.points.length),
    otherLoad: otherLoad(models, likeliest),
  };
}

/** The readings as one load has them. */
interface WeighedLoad extends LoadModel {
  readonly marks: readonly Mark[];
  readonly found: Posterior;
  /** That this load is on. */
  readonly probability: number;
}

function weigh(models: readonly LoadModel[], settled: readonly Settled[]): WeighedLoad[] {
  const each = models.map((one) => {
    const marks = marksOf(one.model.points, settled);
    const found = posterior(one.model, marks);
    return { ...one, marks, found, log: Math.log(one.share) + found.logDensity };
  });
  const total = logOfSum(each.map(({ log }) => log));
  return each.map(({ log, ...one }) => ({ ...one, probability: Math.exp(log - total) }));
}

/** A suspect under all loads. */
interface Ranked extends SuspectName {
  readonly probability: number;
  /** How much likelier or rarer the readings made it. */
  readonly factor: number;
  /** The load under which it is most probable, and its place there. */
  readonly under: WeighedLoad;
  readonly place: number;
}

function ranked(weighed: readonly WeighedLoad[]): Ranked[] {
  const names = new Map<
    string,
    { under: WeighedLoad; place: number; probability: number; prior: number }[]
  >();
  for (const under of weighed) {
    under.model.suspects.forEach(({ fault, about, prior }, place) => {
      const probability = under.probability * under.found.suspects[place]!;
      const one = { under, place, probability, prior: under.share * prior };
      names.set(`${fault} ${about}`, [...(names.get(`${fault} ${about}`) ?? []), one]);
    });
  }
  return [...names.values()]
    .map((all) => {
      const { under, place } = all.reduce((best, one) => (one.probability > best.probability ? one : best));
      const probability = all.reduce((sum, one) => sum + one.probability, 0);
      const prior = all.reduce((sum, one) => sum + one.prior, 0);
      return { ...nameOf(under.model, place), probability, factor: probability / prior, under, place };
    })
    .sort((a, b) => b.probability - a.probability);
}

function nameOf({ suspects }: SuspectModel, place: number): SuspectName {
  const { fault, about, title } = suspects[place]!;
  return { fault, about, title };
}

/** A fault is weighed against the healthy supply, and that one against the most probable fault. */
function evidenceFor({ under, place }: Ranked, leadingFault: SuspectName | undefined): Suspect['evidence'] {
  const { model, marks } = under;
  const healthy = model.suspects[model.healthy]!;
  const rival = place === model.healthy ? (distributionOf(model, leadingFault) ?? healthy) : healthy;
  return evidenceOf(model.suspects[place]!, rival, healthy, marks, model.points);
}

function distributionOf(
  { suspects }: SuspectModel,
  name: SuspectName | undefined,
): SuspectDistribution | undefined {
  return name && suspects.find((each) => isSameSuspect(each, name));
}

function alikeWith(leading: Ranked, ranking: readonly Ranked[]): SuspectName[] {
  return ranking
    .filter((each) => each !== leading && each.factor * TOLD_APART >= leading.factor)
    .map(({ fault, about, title }) => ({ fault, about, title }));
}

function otherLoad([said]: readonly LoadModel[], { load, probability }: WeighedLoad): OtherLoad | null {
  return load === null || load === said?.load ? null : { load, probability };
}
