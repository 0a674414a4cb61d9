import { expect } from 'vitest';
import { systemDisk, type Disk } from '../../../daemon/record/disk.js';
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

/** However full the disk of whoever runs the tests is. */
const roomyDisk: Disk = { ...systemDisk, roomBytes: () => Promise.resolve(1e12) };

/** A recording whose clock stands still until the test moves it. */
export async function opened(folder: string, options: Partial<RecordingOptions> = {}): Promise<Opened> {
  const clock = manualClock();
  const wall = options.wall ?? clock;
  const told: string[] = [];
  const recording = await openRecording({
    folder,
    name: 'signal cabin',
    header: HEADER,
    onTrouble: (why) => told.push(why),
    onWell: () => told.push('well'),
    onLittleRoom: (why) => told.push(why),
    ...options,
    wall,
    disk: options.disk ?? roomyDisk,
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
