import type { AlarmCause } from '../watch/alarm.js';
import type { Effect } from '../watch/effects.js';
import type { ExpectEvent, ProbeEvent, WatchEvent } from '../watch/events.js';
import { predictionOf } from '../watch/sample.js';
import type { WatchState } from '../watch/state.js';
import { stallWords } from '../watch/fault-words.js';
import { heatChangeWords } from '../watch/heat-change-words.js';
import { alarmWords } from '../watch/words.js';
import type { MarkView } from './messages.js';

/** As many as a chart of a whole session can hold apart. */
export const MOST_MARKS = 200;
const LONGEST_WORDS = 120;

/** Notes what belongs into the charts beside the readings: alarms, moved probes, another load or step, another heating, notes. */
export class Marks {
  #all: readonly MarkView[] = [];
  #placed = new Set<string>();
  #load: string;
  #step: string | null = null;

  /** @param load under which the session began. */
  constructor(load: string) {
    this.#load = load;
  }

  get all(): readonly MarkView[] {
    return this.#all;
  }

  /** Gives the marks that this event makes, and keeps them. */
  take(event: WatchEvent, state: WatchState, effects: readonly Effect[]): readonly MarkView[] {
    const made = [...this.#ofEvent(event, state), ...effects.flatMap((effect) => ofEffect(effect, state))];
    if (made.length > 0) this.#all = [...this.#all, ...made].slice(-MOST_MARKS);
    return made;
  }

  #ofEvent(event: WatchEvent, state: WatchState): MarkView[] {
    const { kind, atMs } = event;
    if (kind === 'note') {
      return [{ atMs, kind: 'note', words: event.text.slice(0, LONGEST_WORDS), point: null }];
    }
    if (kind === 'stall') return [{ atMs, kind: 'note', words: stallWords(event), point: null }];
    if (kind === 'probe') return this.#ofProbe(event, state);
    return kind === 'expect' ? this.#ofExpect(event) : [];
  }

  #ofExpect({ atMs, load, step }: ExpectEvent): MarkView[] {
    const made: MarkView[] = [];
    if (load !== this.#load) made.push({ atMs, kind: 'load', words: `${load} load`, point: null });
    if (step !== null && step !== this.#step) made.push({ atMs, kind: 'step', words: step, point: null });
    this.#load = load;
    this.#step = step;
    return made;
  }

  /** Where a probe sits at first is no move. */
  #ofProbe({ atMs, instrument, channel, point }: ProbeEvent, { plan }: WatchState): MarkView[] {
    const name = `${instrument} ${channel}`;
    const isFirst = !this.#placed.has(name);
    this.#placed.add(name);
    if (isFirst) return [];
    const place = point === null ? 'nowhere' : (predictionOf(plan.prediction, point)?.label ?? point);
    return [{ atMs, kind: 'probe', words: `${name} moved to ${place}`, point }];
  }
}

function ofEffect(effect: Effect, state: WatchState): MarkView[] {
  if (effect.kind !== 'forecast') return ofAlarm(effect, state);
  const words = heatChangeWords(effect, state);
  return words === null ? [] : [{ atMs: effect.atMs, kind: 'note', words, point: effect.point }];
}

function ofAlarm(effect: Effect, { plan }: WatchState): MarkView[] {
  if (effect.kind !== 'alarm' || effect.change !== 'raised') return [];
  const { cause } = effect.alarm;
  const words = alarmWords(cause, plan.prediction).spoken;
  return [{ atMs: effect.atMs, kind: 'alarm', words, point: pointOf(cause) }];
}

function pointOf(cause: AlarmCause): string | null {
  return 'point' in cause ? cause.point : null;
}
