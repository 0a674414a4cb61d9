import { LOAD_STATES, type Design, type LoadState } from '../design/design.js';
import { HEALTHY, suspectClouds } from '../watch/suspects/clouds.js';
import { judge } from '../watch/suspects/judge.js';
import type { Judgement } from '../watch/suspects/judgement.js';
import { beginSuspects, type SuspectModel } from '../watch/suspects/model.js';
import { pointWithMoreLoad } from '../watch/suspects/more-load.js';
import type { NextPoint, Ways } from '../watch/suspects/next-point.js';
import type { Settled } from '../watch/suspects/settled.js';
import { judgeUnderLoads } from '../watch/suspects/under-loads.js';
import type { SuspectTask } from './suspect-thread.js';

/** What is weighed. */
export interface SuspectQuestion {
  readonly settled: readonly Settled[];
  /** The load that is said to be on. */
  readonly load: LoadState;
  /** A person or a step of the power-up said so; else it is only what the session began with. */
  readonly isLoadSure: boolean;
}

/** So often the load is the one that nobody named, and so often each of the others (common practice). */
const SAID_SHARE = 0.9;
const OTHER_SHARE = (1 - SAID_SHARE) / (LOAD_STATES.length - 1);
/** Readings that fit a healthy supply this well need no other load to be explained. */
const HEALTHY_ENOUGH = 0.9;
/** Nobody borrows an instrument for less (common practice). */
const WORTH_BORROWING_BITS = 0.1;

/** Weighs readings of one design. What its faults read under a load is worked out when it is first needed, and kept. */
export class SuspectWeigher {
  readonly #design: Design;
  readonly #seed: number;
  readonly #models = new Map<LoadState, SuspectModel>();

  readonly #ways: Ways | undefined;
  readonly #reached: ReadonlySet<string> | undefined;

  constructor({ design, seed, ways }: SuspectTask) {
    this.#design = design;
    this.#seed = seed;
    this.#ways = ways;
    this.#reached = ways && new Set(Object.keys(ways));
  }

  /** @throws {SupplyError} as `suspectClouds` does; {RangeError} as `judge` does. */
  judge(question: SuspectQuestion): Judgement {
    const judgement = this.#judge(question, this.#reached);
    const next = judgement.next ?? (isHealthy(judgement) ? null : this.#elsewhere(judgement, question));
    return { ...judgement, next: next && this.#withWay(next) };
  }

  /** What would tell more than the bench does as it stands. */
  #elsewhere(judgement: Judgement, question: SuspectQuestion): NextPoint | null {
    return this.#withMoreLoad(judgement, question) ?? this.#beyondTheBench(question);
  }

  #withWay(next: NextPoint): NextPoint {
    return this.#ways === undefined ? next : { ...next, way: this.#ways[next.point] ?? null };
  }

  #judge({ settled, load, isLoadSure }: SuspectQuestion, reached?: ReadonlySet<string>): Judgement {
    const alone = judge(this.#model(load), settled, reached);
    if (isLoadSure || isHealthy(alone)) return alone;
    const others = LOAD_STATES.filter((other) => other !== load);
    return judgeUnderLoads(
      [
        { load, share: SAID_SHARE, model: this.#model(load) },
        ...others.map((other) => ({ load: other, share: OTHER_SHARE, model: this.#model(other) })),
      ],
      settled,
      reached,
    );
  }

  #withMoreLoad(judgement: Judgement, { settled, load }: SuspectQuestion): NextPoint | null {
    if (judgement.otherLoad !== null) return null;
    return pointWithMoreLoad(judgement, settled, load, (other) => this.#model(other), this.#reached);
  }

  #beyondTheBench(question: SuspectQuestion): NextPoint | null {
    if (this.#reached === undefined) return null;
    const { next } = this.#judge(question);
    return next !== null && next.gainBits >= WORTH_BORROWING_BITS ? next : null;
  }

  #model(load: LoadState): SuspectModel {
    const known = this.#models.get(load);
    if (known !== undefined) return known;
    const model = beginSuspects([...suspectClouds(this.#design, { load, seed: this.#seed })]);
    this.#models.set(load, model);
    return model;
  }
}

function isHealthy({ suspects: [first] }: Judgement): boolean {
  return first?.fault === HEALTHY && first.probability >= HEALTHY_ENOUGH;
}
