import type { PageMessage, PointView } from '../daemon/serve/messages.js';
import { formatNumber, pointStyle } from './format.js';
import { standingOf, type Standing } from './point-standing.js';
import {
  back,
  beginRound,
  forward,
  probeRead,
  probeSettled,
  type FollowAct,
  type Followed,
  type Round,
} from './probe-follow.js';
import type { PageState } from './session-state.js';
import { shortLabel, spokenNumber, spokenReading } from './spoken.js';
import { partOf, supplyBlocks } from './supply-blocks.js';
import { currentStep } from './walk/step-words.js';

/** What hands-free work needs of the page. */
export interface HandsFreeOutlet {
  send(message: PageMessage): void;
  /** False where there is no voice. What no longer `holds` when its turn comes isn't said. */
  say(words: string, holds: () => boolean): boolean;
  /** Tells a verdict where there is no voice. */
  tone(standing: Standing): void;
}

/** Nobody holds a probe there. */
const OUT_OF_REACH: readonly string[] = ['mains', 'transformer', 'rectifier', 'ambient'];

/** Speaks readings when they settle, and leads a probe from test point to test point. */
export class HandsFree {
  round: Round | null = null;
  /** What was said last, for eyes and for a screen reader. */
  words = '';
  readonly #outlet: HandsFreeOutlet;
  /** By point: when the settled value came that was heard of last. */
  readonly #heard = new Map<string, number>();
  #state: PageState | null = null;
  #readAtMs: number | null = null;

  constructor(outlet: HandsFreeOutlet) {
    this.#outlet = outlet;
  }

  /**
   * The page knows something new.
   * @param aloud whether every settled reading is spoken
   * @param walkTells whether the walk's own voice tells what its step keeps
   */
  update(state: PageState, aloud: boolean, walkTells = false): void {
    this.#state = state;
    if (state.link.kind !== 'live') return;
    const step = walkTells && state.procedure !== null ? currentStep(state.procedure) : undefined;
    for (const settled of Object.values(state.settled)) {
      if ((this.#heard.get(settled.point) ?? -1) >= settled.atMs) continue;
      this.#heard.set(settled.point, settled.atMs);
      if (this.round !== null && settled.point === this.round.points[this.round.at]) {
        this.#follow(probeSettled(this.round, settled, state.points));
      } else if (aloud && !step?.points.some(({ point }) => point === settled.point)) {
        this.#tellVerdict(settled.point, settled.value);
      }
    }
    this.#watchProbe(state.points);
  }

  /** Leads the probe of this channel over the points that it can measure. */
  start(measuredBy: string): void {
    const blank = measuredBy.indexOf(' ');
    const points = this.#state === null ? [] : pointsFor(measuredBy, this.#state);
    this.#follow(beginRound(measuredBy.slice(0, blank), measuredBy.slice(blank + 1), points));
  }

  stop(): void {
    this.round = null;
    this.words = '';
  }

  /** Next, or yes. */
  forward(): void {
    if (this.round !== null) this.#follow(forward(this.round));
  }

  /** Back, or no. */
  back(): void {
    if (this.round !== null) this.#follow(back(this.round));
  }

  #watchProbe(points: readonly PointView[]): void {
    const here = points.find(({ id }) => id === this.round?.points[this.round.at]);
    if (this.round === null || here === undefined || here.atMs === this.#readAtMs) return;
    this.#readAtMs = here.atMs;
    this.#follow(probeRead(this.round, here.value));
  }

  #follow({ round, acts }: Followed): void {
    this.round = round;
    for (const act of acts) this.#do(act, round);
  }

  #do(act: FollowAct, { instrument, channel }: Round): void {
    switch (act.kind) {
      case 'move':
        return this.#outlet.send({ kind: 'probe', instrument, channel, point: act.point });
      case 'announce':
        return this.#tell(`next, ${this.#label(act.point)}`, null, () => this.#isAt(act.point));
      case 'verdict':
        return this.#tellVerdict(act.point, act.value);
      case 'ask':
        return this.#tell(
          `${this.#number(act.point, act.value)} fits ${this.#label(act.other)} better. Is the probe there?`,
          'doubtful',
          () => this.#isAt(act.point),
        );
      case 'finished':
        return this.#tell(
          act.count === 0
            ? 'nothing to measure here'
            : `done, ${act.count} ${act.count === 1 ? 'point' : 'points'}`,
        );
    }
  }

  #tellVerdict(id: string, value: number): void {
    const point = this.#point(id);
    if (point === undefined) return;
    const told = standingOf(point, true);
    const standing = told === 'waiting' ? null : told;
    const heardAtMs = this.#heard.get(id);
    this.#tell(spokenReading(point, value, standing), standing, () => this.#heard.get(id) === heardAtMs);
  }

  #tell(words: string, standing: Standing | null = null, holds = (): boolean => true): void {
    this.words = words;
    const stillHolds = (): boolean => this.#state?.link.kind === 'live' && holds();
    if (!this.#outlet.say(words, stillHolds) && standing !== null) this.#outlet.tone(standing);
  }

  #isAt(point: string): boolean {
    return this.round?.points[this.round.at] === point;
  }

  #label(id: string): string {
    const point = this.#point(id);
    return point === undefined ? id : shortLabel(point);
  }

  #number(id: string, value: number): string {
    const point = this.#point(id);
    return point === undefined ? '' : spokenNumber(formatNumber(value, pointStyle(point)));
  }

  #point(id: string): PointView | undefined {
    return this.#state?.points.find((point) => point.id === id);
  }
}

/** The points that a channel can measure, by the unit of where it sits; from the mains towards the loads. */
export function pointsFor(measuredBy: string, { points, supply }: PageState): readonly string[] {
  const unit = points.find((point) => point.measuredBy === measuredBy)?.unit ?? 'V';
  return supplyBlocks(supply, points)
    .flatMap((block) => block.points)
    .filter((point) => point.unit === unit && !OUT_OF_REACH.includes(partOf(point)))
    .filter((point) => point.measuredBy === null || point.measuredBy === measuredBy)
    .map(({ id }) => id);
}
