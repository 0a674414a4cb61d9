import { describe, expect, it } from 'vitest';
import { RoomForecast } from '../../../daemon/record/room.js';
import { faultyDisk } from './fake-disk.js';
import { opened } from './open.js';
import { temporaryFolder } from './temporary-folder.js';

describe('RoomForecast', () => {
  it('tells an hour and ten minutes before the disk is full, once each', () => {
    const room = new RoomForecast();
    // 100 kB in 60 s: 1 GB lasts a week, 5 MB 50 minutes, 0.9 MB 9 minutes.
    expect(room.next(1e9, 1e5, 60)).toBeNull();
    expect(room.next(5e6, 1e5, 60)).toBe(
      'the disk will be full in about 50 minutes (5 MB free); delete something there',
    );
    expect(room.next(4.9e6, 1e5, 60)).toBeNull();
    expect(room.next(9e5, 1e5, 60)).toMatch(/full in about 9 minutes/);
    expect(room.next(8e5, 1e5, 60)).toBeNull();
  });

  it('tells a nearly full disk at the start, before it knows how fast the recording grows', () => {
    expect(new RoomForecast().next(12e6, 900, 1)).toBe(
      'the disk has only 12 MB free; delete something there',
    );
  });
});

it('a recording on a nearly full disk says so when the session has begun, and is written all the same', async () => {
  const disk = faultyDisk();
  disk.freeBytes = 20e6;
  const { recording, clock, told } = await opened(await temporaryFolder(), { disk });
  clock.advance(1000);
  await expect.poll(() => told).toEqual(['the disk has only 20 MB free; delete something there']);
  expect(recording.trouble).toBeNull();
  await recording.close(1);
});
