import type { Prediction } from '../predict/prediction.js';
import type { Happening } from '../record/index/happenings.js';
import type { MarkView } from '../serve/job-views.js';
import type { AlarmEffect } from '../watch/effects.js';
import type { ExpectEvent } from '../watch/events.js';
import { alarmWords } from '../watch/words.js';

/** What happened in a session, for a time bar and a list; what says nothing to a person is left out. */
export function marksOf(happenings: readonly Happening[], prediction: Prediction): readonly MarkView[] {
  const marks: MarkView[] = [];
  let load: string = prediction.load;
  let step: string | null = null;
  for (const one of happenings) {
    if (one.kind === 'expect') {
      marks.push(...expectMarks(one, { load, step }));
      ({ load, step } = one);
    } else marks.push(...markOf(one, prediction));
  }
  return marks;
}

function markOf(one: Exclude<Happening, ExpectEvent>, prediction: Prediction): readonly MarkView[] {
  const { atMs } = one;
  switch (one.kind) {
    case 'alarm':
      return alarmMark(one, prediction);
    case 'note':
      return [{ atMs, kind: 'note', point: null, sentence: `Note: ${one.text}` }];
    case 'probe': {
      const channel = `${one.instrument} ${one.channel}`;
      const place = one.point === null ? null : labelOf(prediction, one.point);
      const sentence = place === null ? `${channel} taken off.` : `${channel} put on: ${place}.`;
      return [{ atMs, kind: 'probe', point: one.point, sentence }];
    }
    case 'capture': {
      const place = one.point === null ? 'nowhere' : labelOf(prediction, one.point);
      const sentence = `Waveform captured by ${one.instrument} ${one.channel}: ${place}.`;
      return [{ atMs, kind: 'capture', point: one.point, sentence }];
    }
  }
}

function alarmMark({ atMs, change, alarm }: AlarmEffect, prediction: Prediction): readonly MarkView[] {
  const point = ('point' in alarm.cause ? alarm.cause.point : null) ?? null;
  const { sentence } = alarmWords(alarm.cause, prediction);
  switch (change) {
    case 'raised':
      // One that another alarm explains is told with that one.
      if (alarm.suppressedBy.length > 0) return [];
      return [{ atMs, kind: 'alarm', point, sentence }];
    case 'unsuppressed':
      if (!alarm.active) return [];
      return [{ atMs, kind: 'alarm', point, sentence }];
    case 'acknowledged':
      return [{ atMs, kind: 'acknowledged', point, sentence: `Acknowledged: ${sentence}` }];
    case 'returned':
      return [{ atMs, kind: 'over', point, sentence: `Over: ${sentence}` }];
    case 'worse':
    case 'removed':
    case 'suppressed':
      return [];
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
