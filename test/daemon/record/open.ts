import { expect } from 'vitest';
import type { RecordingItem } from '../../../daemon/record/parse.js';
import { readRecording } from '../../../daemon/record/reader.js';
import { openRecording, type Recording, type RecordingOptions } from '../../../daemon/record/writer.js';
import { manualClock, type ManualClock } from '../../manual-clock.js';
import { HEADER } from './signal-cabin.js';

export interface Opened {
  readonly recording: Recording;
  readonly clock: ManualClock;
  /** What was told, in order: each trouble in words, `well` when it was over. */
  readonly told: string[];
}

/** A recording whose clock stands still until the test moves it. */
export async function opened(folder: string, options: Partial<RecordingOptions> = {}): Promise<Opened> {
  const clock = manualClock();
  const told: string[] = [];
  const recording = await openRecording({
    folder,
    name: 'signal cabin',
    header: HEADER,
    onTrouble: (why) => told.push(why),
    onWell: () => told.push('well'),
    wall: clock,
    ...options,
  });
  return { recording, clock, told };
}

export async function itemsOf(path: string | null): Promise<RecordingItem[]> {
  expect(path).not.toBeNull();
  const items: RecordingItem[] = [];
  for await (const item of readRecording(path ?? '')) items.push(item);
  return items;
}

export function eventsIn(items: readonly RecordingItem[]) {
  return items.flatMap((item) => (item.kind === 'event' ? [item.event] : []));
}

export function problemsIn(items: readonly RecordingItem[]) {
  return items.flatMap((item) => (item.kind === 'problem' ? [item.problem] : []));
}
