import type { Prediction } from '../predict/prediction.js';
import type { Happening } from '../record/index/happenings.js';
import type { MarkView } from '../serve/job-views.js';
import type { AlarmEffect } from '../watch/effects.js';
import type { ExpectEvent, StepEvent } from '../watch/events.js';
import { alarmWords } from '../watch/words.js';

/** What happened in a session, for a time bar and a list; what says nothing to a person is left out. */
export function marksOf(happenings: readonly Happening[], prediction: Prediction): readonly MarkView[] {
  const marks: MarkView[] = [];
  const alarms = new AlarmMarks(happenings, prediction);
  let load: string = prediction.load;
  let step: string | null = null;
  for (const one of happenings) {
    if (one.kind === 'expect') {
      marks.push(...expectMarks(one, { load, step }));
      ({ load, step } = one);
    } else if (one.kind === 'alarm') marks.push(...alarms.of(one));
    else if (one.kind === 'step') marks.push(...stepMarks(one));
    else marks.push(markOf(one, prediction));
  }
  return marks;
}

function markOf(
  one: Exclude<Happening, ExpectEvent | AlarmEffect | StepEvent>,
  prediction: Prediction,
): MarkView {
  const { atMs } = one;
  switch (one.kind) {
    case 'note':
      return { atMs, kind: 'note', point: null, sentence: one.text };
    case 'probe': {
      const channel = `${one.instrument} ${one.channel}`;
      const place = one.point === null ? null : labelOf(prediction, one.point);
      const sentence = place === null ? `${channel} taken off.` : `${channel} put on: ${place}.`;
      return { atMs, kind: 'probe', point: one.point, sentence };
    }
    case 'capture': {
      const place = one.point === null ? 'nowhere' : labelOf(prediction, one.point);
      const sentence = `Captured by ${one.instrument} ${one.channel}: ${place}.`;
      return { atMs, kind: 'capture', point: one.point, sentence };
    }
  }
}

/** An alarm is told when it stands for itself, and told to be over only when it was told before. */
class AlarmMarks {
  readonly #prediction: Prediction;
  /** `id atMs` of every return. */
  readonly #returns: ReadonlySet<string>;
  readonly #told = new Set<string>();

  constructor(happenings: readonly Happening[], prediction: Prediction) {
    this.#prediction = prediction;
    this.#returns = new Set(
      happenings.flatMap((one) =>
        one.kind === 'alarm' && one.change === 'returned' ? [`${one.alarm.id} ${one.atMs}`] : [],
      ),
    );
  }

  of({ atMs, change, alarm }: AlarmEffect): readonly MarkView[] {
    const { id, cause, suppressedBy } = alarm;
    const point = ('point' in cause ? cause.point : null) ?? null;
    const { sentence } = alarmWords(cause, this.#prediction);
    switch (change) {
      case 'raised':
      case 'unsuppressed':
        if (suppressedBy.length > 0 || this.#returns.has(`${id} ${atMs}`)) return [];
        this.#told.add(id);
        return [{ atMs, kind: 'alarm', point, sentence }];
      case 'acknowledged':
        return [{ atMs, kind: 'acknowledged', point, sentence }];
      case 'returned':
        return this.#told.delete(id) ? [{ atMs, kind: 'over', point, sentence }] : [];
      case 'shelved':
      case 'unshelved':
      case 'worse':
      case 'removed':
      case 'suppressed':
        return [];
    }
  }
}

/** That a step began is told by the bands that stand from then on. */
function stepMarks(event: StepEvent): readonly MarkView[] {
  const sentence = stepSentence(event);
  return sentence === null ? [] : [{ atMs: event.atMs, kind: 'step', point: null, sentence }];
}

function stepSentence(event: StepEvent): string | null {
  switch (event.action) {
    case 'override':
      return `Step ${event.step} overridden: ${event.reason}.`;
    case 'abort':
      return `Power-up broken off at step ${event.step}: ${event.reason}.`;
    case 'back':
      return `Back from step ${event.step}.`;
    case 'sign':
      return `Signed off by ${event.name}.`;
    case 'begin':
    case 'answer':
      return null;
  }
}

function expectMarks(
  { atMs, load, step }: ExpectEvent,
  before: { readonly load: string; readonly step: string | null },
): readonly MarkView[] {
  return [
    ...(load === before.load
      ? []
      : [{ atMs, kind: 'load', point: null, sentence: `Load from here on: ${load}.` } as const]),
    ...(step === before.step || step === null
      ? []
      : [{ atMs, kind: 'step', point: null, sentence: `Step begun: ${step}.` } as const]),
  ];
}

function labelOf({ points }: Prediction, id: string): string {
  return Object.hasOwn(points, id) ? (points[id]?.label ?? id) : id;
}
