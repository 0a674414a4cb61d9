import { beforeEach, describe, expect, it } from 'vitest';
import type { AlarmView, ProcedureView } from '../../daemon/serve/messages.js';
import { FAILED, walkAt, walking } from './cabin-walk.js';
import { startFakeDaemon, type FakeDaemon } from './fake-daemon.js';
import { endSentence, giveVoice, hearAll, heard } from './fake-voice.js';
import { pageTests } from './page-tests.js';
import { calm, HOT_CASE, LOST_METER, LOW_LOGIC, NOW_MS, withCutOffs, withPoints } from './signal-cabin.js';

let daemon: FakeDaemon;
const { open } = pageTests(async (page) => (daemon = await startFakeDaemon(page, calm())));

let seconds: number;
beforeEach(() => {
  seconds = 0;
});

const lostMeter: AlarmView = { ...LOST_METER, state: 'unacknowledged' };
const alarm = ({ spoken }: AlarmView): string => `Alarm: ${spoken}`;

async function listen(preferences = {}) {
  const page = await open();
  await giveVoice(page, { voice: 'on', ...preferences });
  return page;
}

/** Tells pages and waits until they have heard it: the clock of the session has gone on. */
async function tellPage(
  page: Awaited<ReturnType<typeof open>>,
  changes: Parameters<FakeDaemon['sendChanges']>[0],
) {
  seconds += 1;
  daemon.sendChanges({ ...changes, nowMs: NOW_MS + seconds * 1000 });
  const clock = `${Math.floor((754 + seconds) / 60)}:${String((754 + seconds) % 60).padStart(2, '0')}`;
  await page.locator('rm-top-line').getByText(`${clock} into the session`).waitFor();
}

describe('alarms', () => {
  it('a graver one cuts off a lesser one, which is heard afterwards', async () => {
    const page = await listen();
    await tellPage(page, { alarms: [lostMeter] });
    await tellPage(page, { alarms: [HOT_CASE] });
    expect(await hearAll(page)).toEqual([alarm(lostMeter), alarm(HOT_CASE), alarm(lostMeter)]);
  });

  it('a lesser one waits for a graver one to be over', async () => {
    const page = await listen();
    await tellPage(page, { alarms: [HOT_CASE] });
    await tellPage(page, { alarms: [lostMeter] });
    expect(await heard(page)).toEqual([alarm(HOT_CASE)]);
    expect(await hearAll(page)).toEqual([alarm(HOT_CASE), alarm(lostMeter)]);
  });

  it('that come together are heard worst first, and not once they are acknowledged', async () => {
    const page = await listen();
    await tellPage(page, { alarms: [lostMeter, LOW_LOGIC, HOT_CASE] });
    await tellPage(page, {
      alarms: [
        { ...LOW_LOGIC, state: 'acknowledged' },
        { ...lostMeter, state: 'returned-unacknowledged' },
      ],
    });
    expect(await hearAll(page)).toEqual([alarm(HOT_CASE), alarm(lostMeter)]);
    await page
      .locator('rm-announcer [role=alert]', { hasText: `${alarm(HOT_CASE)} ${alarm(LOW_LOGIC)}` })
      .waitFor({ state: 'attached' });
  });
});

it('a cut-off that drops is heard on every view after the alarm, where power stands and no longer than it is so', async () => {
  const [armed, dropped] = withCutOffs(calm()).cutOffs;
  daemon.snapshot = { ...calm(), cutOffs: [armed!] };
  const page = await listen();
  await page.keyboard.press('w');
  const falling = { ...dropped!, output: 'mains-relay', position: 'on', isFalling: true } as const;
  await tellPage(page, { alarms: [HOT_CASE], cutOffs: [falling] });
  await tellPage(page, { cutOffs: [{ ...falling, position: 'off', isFalling: false }] });
  expect(await hearAll(page)).toEqual([
    alarm(HOT_CASE),
    'mains-relay: Dropped by Logic regulator case over its limit; power is off. It stays so until it is armed again.',
  ]);
});

it('a bench that is lost is heard, and that it is back', async () => {
  const page = await listen();
  daemon.goAway();
  await expect.poll(() => heard(page)).toEqual(['Not live. The values shown are old.']);
  await endSentence(page);
  daemon.comeBack();
  await expect.poll(() => heard(page)).toHaveLength(2);
  expect((await heard(page))[1]).toBe('Live.');
});

describe('a step of the walk', () => {
  const begin = async (walk: ProcedureView) => {
    daemon.snapshot = walking(walkAt('raw'));
    const page = await listen();
    await tellPage(page, { procedure: walk });
    return page;
  };

  it('is heard with everything that the hand does and must mind', async () => {
    const walk = walkAt('rails');
    const said = (await hearAll(await begin(walk))).join(' ');
    const { actions } = walk.steps.find(({ id }) => id === 'rails')!;
    const cautions = actions.flatMap(({ caution }) => (caution === null ? [] : [`Caution. ${caution}`]));
    expect([actions.length, cautions.length]).toEqual([4, 3]);
    // Up to the first number, for a voice says units in words.
    for (const words of [...actions.map((action) => action.words), ...cautions]) {
      expect(said).toContain(words.split(/\d/)[0]);
    }
  });

  it('goes on with its sentence after an alarm that cut it off', async () => {
    const page = await begin(walkAt('rails'));
    await endSentence(page);
    const [, cutOff] = await heard(page);
    expect(cutOff).toMatch(/^Do not connect yet/);
    await tellPage(page, { alarms: [lostMeter] });
    await endSentence(page);
    expect((await heard(page)).slice(1)).toEqual([cutOff, alarm(lostMeter), cutOff]);
  });

  it('is not heard any more once another one has begun', async () => {
    const page = await begin(walkAt('rails'));
    await tellPage(page, { procedure: walkAt('dummy-load') });
    const said = await hearAll(page);
    expect(said[0]).toMatch(/^Step 5 of 11/);
    expect(said[1]).toMatch(/^Step 6 of 11/);
  });

  it('that failed is heard at once, and nobody is told to go on with what it said', async () => {
    const page = await begin(walkAt('rails'));
    await tellPage(page, { procedure: FAILED });
    expect((await hearAll(page)).slice(1)).toEqual([
      'Failed.',
      'Logic rail: 5.42 volts where 4.80 to 5.20 volts is expected.',
    ]);
  });
});

describe('readings', () => {
  const settled = (point: string, value: number, atMs: number) => ({
    point,
    atMs,
    value,
    standardUncertainty: 0.01,
  });

  it('that wait are heard with the newest value only', async () => {
    const page = await listen({ readings: 'on' });
    await tellPage(page, { settled: [settled('reservoir.volts', 18.7, NOW_MS)] });
    for (const [at, value] of [12.07, 12.11, 12.02].entries()) {
      await tellPage(page, { settled: [settled('lamps.volts', value, NOW_MS + at)] });
    }
    expect(await hearAll(page)).toEqual([
      'reservoir, 18 point seven oh, inside',
      'lamps, 12 point oh two, inside',
    ]);
  });

  it('of a supply that is switched off have no verdict', async () => {
    const dead = { value: 0.01, verdict: 'outside' as const };
    daemon.snapshot = withPoints(calm(), {
      'reservoir.volts': dead,
      'lamps.volts': dead,
      'logic.volts': dead,
    });
    const page = await listen({ readings: 'on' });
    await tellPage(page, { settled: [settled('reservoir.volts', 0.01, NOW_MS)] });
    expect(await hearAll(page)).toEqual(['reservoir, zero point oh one']);
  });

  it('that the walk tells are not told twice', async () => {
    daemon.snapshot = walking(walkAt('rails'));
    const page = await listen({ readings: 'on' });
    await tellPage(page, {
      settled: [settled('logic.volts', 5.02, NOW_MS), settled('lamps.case', 49.3, NOW_MS)],
    });
    expect(await hearAll(page)).toEqual(['lamps regulator case, 49 point three degrees, inside']);
  });
});
