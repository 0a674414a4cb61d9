import { expect, it } from 'vitest';
import { WallDate } from '../../../daemon/record/wall-date.js';
import { openRecording } from '../../../daemon/record/writer.js';
import { manualClock } from '../../manual-clock.js';
import { eventsIn, itemsOf, problemsIn } from './open.js';
import { HEADER, volts } from './signal-cabin.js';
import { temporaryFolder } from './temporary-folder.js';

it('a clock that is set is noticed once, with both times; a small correction is not', () => {
  const clock = manualClock();
  let aheadMs = 0;
  const date = new WallDate(clock, () => Date.UTC(2026, 10, 25, 8) + clock.nowMs() + aheadMs);
  clock.advance(60_000);
  aheadMs = 900;
  expect(date.jump()).toBeNull();
  aheadMs = 3_600_000;
  expect(date.jump()).toEqual({
    was: new Date('2026-11-25T08:01:00.000Z'),
    is: new Date('2026-11-25T09:01:00.000Z'),
  });
  expect(date.jump()).toBeNull();
});

it('a recording says at which moment it was set back an hour, and its own times go on', async () => {
  const clock = manualClock();
  let aheadMs = 0;
  const recording = await openRecording({
    folder: await temporaryFolder(),
    name: 'cabin',
    header: HEADER,
    onTrouble: () => undefined,
    onWell: () => undefined,
    onLittleRoom: () => undefined,
    wall: clock,
    dateMs: () => clock.nowMs() + aheadMs,
  });
  recording.append(volts(700, 5));
  aheadMs = -3_600_000;
  clock.advance(800);
  recording.append(volts(850, 5));
  await recording.close(900);
  const items = await itemsOf(recording.file);
  expect(eventsIn(items)).toEqual([volts(700, 5), volts(850, 5)]);
  expect(problemsIn(items)).toEqual([]);
  expect(items.find(({ kind }) => kind === 'clock')).toMatchObject({
    atMs: 700,
    was: '1970-01-01T00:00:00.750Z',
    is: '1969-12-31T23:00:00.750Z',
  });
});
