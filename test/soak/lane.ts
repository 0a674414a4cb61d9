import type { RandomSource } from '../../drivers/simulated/random.js';
import type { SoakFault, Wait, World } from './faults.js';

/** A disk that has room again is written to within a second; this is how patient we are. */
const DISK_MS = 30_000;

export interface FaultCount {
  done: number;
  /** What wasn't seen or told, in words. */
  readonly missed: string[];
}

/** Lets one fault after the other happen, all kinds equally often, in an order that the seed draws. */
export class Lane {
  readonly counts = new Map<string, FaultCount>();
  readonly #faults: Readonly<Record<string, SoakFault>>;
  readonly #world: World;
  readonly #random: RandomSource;
  /** Of session time between two faults, on average. */
  readonly #meanGapMs: number;
  #bag: string[] = [];
  #kind = '';
  #running: Generator<Wait, void, void> | null = null;
  #wait: Wait | null = null;
  #sinceMs = 0;
  #sinceWallMs = 0;
  #nextAtMs: number;

  constructor(
    faults: Readonly<Record<string, SoakFault>>,
    world: World,
    { random, meanGapMs }: { readonly random: RandomSource; readonly meanGapMs: number },
  ) {
    this.#faults = faults;
    this.#world = world;
    this.#random = random;
    this.#meanGapMs = meanGapMs;
    this.#nextAtMs = this.#gapMs();
    for (const kind of Object.keys(faults)) this.counts.set(kind, { done: 0, missed: [] });
  }

  /** Whether every kind of fault has happened. */
  get isComplete(): boolean {
    return [...this.counts.values()].every(({ done }) => done > 0);
  }

  get isIdle(): boolean {
    return this.#running === null;
  }

  /** The session's time has to stand still until the disk has done its part. */
  get waitsForDisk(): boolean {
    return this.#wait?.kind === 'expect-of-disk';
  }

  /** To be called after each piece of session time. @param mayBegin another fault */
  step(nowMs: number, mayBegin: boolean): void {
    if (this.#running === null) {
      if (mayBegin && nowMs >= this.#nextAtMs) this.#begin(nowMs);
      return;
    }
    while (this.#wait !== null && this.#isOver(this.#wait, nowMs)) this.#goOn(nowMs);
  }

  #begin(nowMs: number): void {
    if (this.#bag.length === 0) this.#bag = shuffled(Object.keys(this.#faults), this.#random);
    this.#kind = this.#bag.pop() ?? '';
    this.#world.facts.forget();
    this.#running = this.#faults[this.#kind]?.(this.#world) ?? null;
    this.#goOn(nowMs);
  }

  #goOn(nowMs: number): void {
    const next = this.#running?.next();
    this.#sinceMs = nowMs;
    this.#sinceWallMs = performance.now();
    this.#wait = next === undefined || next.done === true ? null : next.value;
    if (this.#wait !== null) return;
    this.#running = null;
    this.#nextAtMs = nowMs + this.#gapMs();
    this.#count().done += 1;
  }

  #isOver(wait: Wait, nowMs: number): boolean {
    const passedMs = nowMs - this.#sinceMs;
    if (wait.kind === 'pass') return passedMs >= wait.ms;
    if (wait.isSo()) return true;
    const isLate =
      wait.kind === 'expect' ? passedMs > wait.withinMs : performance.now() - this.#sinceWallMs > DISK_MS;
    if (isLate) this.#count().missed.push(`${this.#kind} at ${Math.round(nowMs / 1000)} s: ${wait.what}`);
    return isLate;
  }

  #count(): FaultCount {
    const count = this.counts.get(this.#kind) ?? { done: 0, missed: [] };
    this.counts.set(this.#kind, count);
    return count;
  }

  #gapMs(): number {
    return this.#meanGapMs * (0.5 + this.#random.uniform());
  }
}

function shuffled(kinds: readonly string[], random: RandomSource): string[] {
  const rest = [...kinds];
  const drawn: string[] = [];
  while (rest.length > 0) drawn.push(...rest.splice(Math.floor(random.uniform() * rest.length), 1));
  return drawn;
}
