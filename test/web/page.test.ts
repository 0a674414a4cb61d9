import { describe, expect, it } from 'vitest';
import { startFakeDaemon, type FakeDaemon } from './fake-daemon.js';
import { reservoirCapture } from './captures.js';
import { pageTests } from './page-tests.js';
import {
  calm,
  demo,
  HOT_CASE,
  INSTRUMENTS,
  LOOSE_HEATSINK,
  LOW_LOGIC,
  NOW_MS,
  POINTS,
  troubled,
  unprobed,
  withCutOffs,
} from './signal-cabin.js';

let daemon: FakeDaemon;
const { open } = pageTests(async (page) => (daemon = await startFakeDaemon(page, calm())));

describe('a snapshot', () => {
  it('is shown: the worst or closest first, every point, instruments, recording', async () => {
    const page = await open();
    await page.getByText('All well: closest to a limit is logic').waitFor();
    expect(await page.locator('rm-supply .block').count()).toBe(7);
    const logic = page.locator('rm-supply .block', { hasText: 'Logic rail' });
    expect(await logic.innerText()).toMatch(/5\.02\sV\s+inside\s+volts, predicted 4\.87 to 5\.13\sV/);
    await page.getByRole('button', { name: 'Logic rail' }).click();
    expect(await page.locator('rm-point').count()).toBe(4);
    const logicCase = page.locator('rm-point .card', { hasText: 'Logic regulator case' });
    expect(await logicCase.innerText()).toMatch(
      /53\.8\s°C\s+inside\s+predicted 43\.0 to 64\.0\s°C\s+limit 107\s°C/,
    );
    await page.getByText('says it is “BENCH METER,0,SN000123,1.04”').waitFor();
    await page.getByText('recordings/2025-03-08-signal-cabin.ndjson').waitFor();
    expect(await page.title()).toBe('Signal cabin – Railminder');
  });

  it('without a probe anywhere says what to do first', async () => {
    daemon.snapshot = unprobed();
    const page = await open();
    await page.getByText('Nothing is measured yet.').waitFor();
    expect(await page.locator('rm-supply .block .verdict', { hasText: 'not measured' }).count()).toBe(5);
  });

  it('says what the readings speak for, with evidence, action and where to probe next', async () => {
    daemon.snapshot = { ...calm(), suspicion: LOOSE_HEATSINK };
    const page = await open();
    const section = page.getByRole('region', { name: 'What the readings speak for' });
    await section.getByText('83 % the heatsink is loose (logic)').waitFor();
    await section.getByText('88 °C, 31 K hotter than a healthy one').waitFor();
    await section.getByText('11 % the rail draws too much (logic)').waitFor();
    await section.getByText('4 % something that isn’t known here').waitFor();
    await section.getByText('Measure logic rail current next').waitFor();
    daemon.sendChanges({ suspicion: null });
    await section.waitFor({ state: 'detached' });
  });

  it('draws the measured temperatures, in words too', async () => {
    const page = await open();
    await page.locator('rm-plot canvas').first().waitFor();
    expect(await page.locator('rm-plot canvas').count()).toBe(3);
    const chart = page.getByRole('img', { name: /^Chart of logic regulator case, the last 5.min/ });
    expect(await chart.getAttribute('aria-label')).toMatch(
      /53\.8.°C, predicted 43\.0 to 64\.0.°C, steady\.$/,
    );
  });
});

describe('an instrument that a person reads', () => {
  const typing = [
    { point: 'lamps.volts', instrument: 'meter', channel: 'volts', there: true },
    { point: 'logic.volts', instrument: 'meter', channel: 'volts', there: false },
  ];

  it('has no field on a bench without one', async () => {
    const page = await open();
    await page.getByText('All well').waitFor();
    expect(await page.locator('rm-typing').count()).toBe(0);
  });

  it('is asked for one test point after the other, its probe moved first', async () => {
    daemon.snapshot = { ...calm(), typing };
    const page = await open();
    const field = page.getByRole('textbox', { name: 'lamps.volts reads' });
    await field.fill('12.03');
    await field.press('Enter');
    await expect
      .poll(() => daemon.commands)
      .toEqual([{ kind: 'typed', instrument: 'meter', channel: 'volts', text: '12.03' }]);
    daemon.sendChanges({ readings: [['lamps.volts', NOW_MS + 5, 12.03]] });
    await page.getByText(/Taken: lamps 12\.03/).waitFor();
    const next = page.getByRole('textbox', { name: 'logic.volts reads' });
    expect(await next.inputValue()).toBe('');
    expect(await next.evaluate((input) => (input.getRootNode() as ShadowRoot).activeElement === input)).toBe(
      true,
    );
    await page.keyboard.type('5.02');
    await page.keyboard.press('Enter');
    await expect
      .poll(() => daemon.commands.slice(1))
      .toEqual([
        { kind: 'probe', instrument: 'meter', channel: 'volts', point: 'logic.volts' },
        { kind: 'typed', instrument: 'meter', channel: 'volts', text: '5.02' },
      ]);
  });

  it('keeps what was typed when it is refused', async () => {
    daemon.snapshot = { ...calm(), typing };
    const page = await open();
    const field = page.getByRole('textbox', { name: 'lamps.volts reads' });
    await field.fill('12..3');
    await field.press('Enter');
    await expect.poll(() => daemon.commands.length).toBe(1);
    daemon.refuse('"12..3" is no reading in V; type a number such as 12.03, 45m or OL');
    await page.getByText('is no reading in V').waitFor();
    expect(await field.inputValue()).toBe('12..3');
  });
});

describe('an alarm', () => {
  it('appears at once, in the title and for screen readers, and is acknowledged by its button', async () => {
    const page = await open();
    await page.getByText('No alarms').waitFor();
    daemon.sendChanges({ alarms: [HOT_CASE] });
    await page.locator('rm-glance').getByText('Logic regulator case is at 108.6').waitFor();
    expect(await page.title()).toBe(
      'Alarm: Logic regulator case over its limit. – Signal cabin – Railminder',
    );
    expect(await page.locator('rm-announcer [role=alert]').innerText()).toBe(
      'Alarm: Logic regulator case over its limit.',
    );
    await page.getByRole('button', { name: 'Acknowledge: Logic regulator case over its limit.' }).click();
    await expect.poll(() => daemon.commands).toEqual([{ kind: 'acknowledge', alarm: HOT_CASE.id }]);
    daemon.sendChanges({ alarms: [{ ...HOT_CASE, state: 'acknowledged' }] });
    await page.getByText('acknowledged, still so').waitFor();
    expect(await page.getByRole('button', { name: /^Acknowledge/ }).count()).toBe(0);
  });

  it('is acknowledged by the key, the worst that waits first', async () => {
    daemon.snapshot = troubled();
    const page = await open();
    await page.getByText('3 alarms').waitFor();
    await page.keyboard.press('a');
    await expect.poll(() => daemon.commands).toEqual([{ kind: 'acknowledge', alarm: HOT_CASE.id }]);
    daemon.sendChanges({ alarms: [{ ...HOT_CASE, state: 'acknowledged' }] });
    await page.getByText('acknowledged, still so').waitFor();
    await page.keyboard.press('a');
    await expect.poll(() => daemon.commands.at(-1)).toEqual({ kind: 'acknowledge', alarm: LOW_LOGIC.id });
  });

  it('is heard after the first key, and the page says when it is not', async () => {
    daemon.snapshot = troubled();
    const page = await open();
    await page.getByRole('button', { name: 'Sound off: turn on' }).waitFor();
    const started = await page.evaluateHandle(countTones);
    await page.getByRole('button', { name: 'Sound off: turn on' }).click();
    await page.getByRole('button', { name: 'Sound on, tone playing' }).waitFor();
    // A burst of the high priority has five pulses.
    await expect.poll(() => started.evaluate((tones) => tones.count)).toBeGreaterThanOrEqual(5);
    await page.keyboard.press('s');
    await page.getByRole('button', { name: 'Muted: unmute' }).waitFor();
  });
});

describe('a cut-off', () => {
  it('is armed, tested and armed again by somebody who says that they see the supply, once an order', async () => {
    daemon.snapshot = withCutOffs(calm());
    const page = await open();
    const sight = page.getByLabel('I have the supply in sight');
    const again = page
      .getByRole('group', { name: 'bench-supply' })
      .getByRole('button', { name: 'Arm again' });
    await page.getByText('Dropped by Logic regulator case over its limit; power is off').waitFor();
    expect(await again.isDisabled()).toBe(true);
    await sight.check();
    await again.click();
    await expect
      .poll(() => daemon.commands)
      .toContainEqual({
        kind: 'cut-off',
        output: 'bench-supply',
        order: 'arm',
        inSight: true,
      });
    expect(await sight.isChecked()).toBe(false);
    expect(await page.getByRole('button', { name: 'Test: drop it now' }).isDisabled()).toBe(true);
    await page.getByText('doesn’t replace a fuse, a lamp limiter or a person').waitFor();
  });

  it('lets power be taken away by anybody, and shows the change at once', async () => {
    daemon.snapshot = withCutOffs(calm());
    const page = await open();
    await page
      .getByRole('group', { name: 'mains-relay' })
      .getByRole('button', { name: 'Take power away' })
      .click();
    await expect
      .poll(() => daemon.commands.some((one) => one.kind === 'cut-off' && one.order === 'off'))
      .toBe(true);
    const [armed, dropped] = daemon.snapshot.cutOffs;
    daemon.sendChanges({ cutOffs: [{ ...armed!, position: 'off' }, dropped!] });
    await page.getByText('Armed; power is off.').waitFor();
  });
});

describe('putting an alarm aside', () => {
  it('asks for the longest that is allowed, and takes it up again', async () => {
    daemon.snapshot = { ...calm(), alarms: [HOT_CASE] };
    const page = await open();
    await page.getByRole('button', { name: 'Put aside for 10 min' }).click();
    await expect
      .poll(() => daemon.commands)
      .toContainEqual({ kind: 'shelve', alarm: HOT_CASE.id, minutes: 10 });
    daemon.sendChanges({ alarms: [{ ...HOT_CASE, state: 'shelved', shelvedUntilMs: NOW_MS + 600_000 }] });
    await page.getByText('1 put aside').click();
    await page.getByText('put aside until').waitFor();
    await page.getByRole('button', { name: 'Take up again' }).click();
    await expect
      .poll(() => daemon.commands)
      .toContainEqual({ kind: 'shelve', alarm: HOT_CASE.id, minutes: null });
  });

  it('what another alarm explains names it, and the first of the trouble is marked', async () => {
    const explained = { ...LOW_LOGIC, state: 'suppressed' as const, explainedBy: [HOT_CASE.spoken] };
    daemon.snapshot = { ...calm(), alarms: [{ ...HOT_CASE, firstUp: true }, explained] };
    const page = await open();
    await page.getByText('the first of this trouble').waitFor();
    await page.getByText('1 put aside').click();
    await page.getByText(`Explained by: ${HOT_CASE.spoken}`).waitFor();
  });
});

describe('keys', () => {
  it('are listed, and can be turned off for good', async () => {
    daemon.snapshot = troubled();
    const page = await open();
    await page.getByText('3 alarms').waitFor();
    await page.keyboard.press('?');
    await page.getByRole('checkbox').uncheck();
    await page.getByRole('button', { name: 'Close' }).click();
    await page.getByRole('dialog').waitFor({ state: 'hidden' });
    await page.reload();
    await page.getByText('3 alarms').waitFor();
    await page.keyboard.press('a');
    await page.getByRole('button', { name: 'Keys' }).click();
    expect(await page.getByRole('checkbox').isChecked()).toBe(false);
    expect(daemon.commands).toEqual([]);
  });

  it('stay letters inside a field', async () => {
    daemon.snapshot = troubled();
    const page = await open();
    await page.getByRole('textbox').fill('');
    await page.getByRole('textbox').pressSequentially('as ?');
    await page.keyboard.press('Enter');
    await expect.poll(() => daemon.commands).toEqual([{ kind: 'note', text: 'as ?' }]);
  });

  it('reach every control in order, and show where they are', async () => {
    daemon.snapshot = { ...troubled(), demo: demo().demo };
    const page = await open();
    await page.getByText('3 alarms').waitFor();
    const controls = await page
      .locator(
        'button:visible, select:visible, input:visible, a[href]:visible, summary:visible, [tabindex="0"]:visible',
      )
      .count();
    const reached = new Set<string>();
    for (let presses = 0; presses < controls; presses += 1) {
      await page.keyboard.press('Tab');
      reached.add(await page.evaluate(focusedControl));
    }
    expect(reached.size).toBe(controls);
  });
});

describe('hands-free', () => {
  it('follows a probe by one key and says each verdict', async () => {
    const page = await open();
    const said = await page.evaluateHandle(listenToVoice);
    await page.getByLabel('Probe of').selectOption('meter volts');
    await page.getByRole('button', { name: 'Follow this probe' }).click();
    await page.getByRole('status').getByText('Next, reservoir').waitFor();
    daemon.sendChanges({
      readings: [['reservoir.volts', NOW_MS + 500, 18.62]],
      settled: [{ point: 'reservoir.volts', atMs: NOW_MS + 500, value: 18.62, standardUncertainty: 0.01 }],
    });
    await page.getByText('Reservoir, 18 point six two, inside').waitFor();
    await page.keyboard.press('PageDown');
    await page.getByText('Done, 1 point').waitFor();
    expect(daemon.receivedOf('probe')).toEqual([
      { kind: 'probe', instrument: 'meter', channel: 'volts', point: 'reservoir.volts' },
    ]);
    expect(await said.evaluate((words) => words)).toEqual([
      'next, reservoir',
      'reservoir, 18 point six two, inside',
      'done, 1 point',
    ]);
    await page.keyboard.press('Escape');
    await page.getByRole('button', { name: 'Follow this probe' }).waitFor();
  });

  it('speaks a settled reading only when that was asked for', async () => {
    const page = await open();
    const said = await page.evaluateHandle(listenToVoice);
    const settled = (atMs: number) => [
      { point: 'logic.volts', atMs, value: 5.02, standardUncertainty: 0.01 },
    ];
    await page.getByText('All well').waitFor();
    daemon.sendChanges({ nowMs: NOW_MS + 1, settled: settled(NOW_MS + 1) });
    await expect.poll(() => page.getByText('12:34 into').count()).toBe(1);
    await page.keyboard.press('v');
    daemon.sendChanges({ settled: settled(NOW_MS + 2) });
    await expect.poll(() => said.evaluate((words) => words.length)).toBe(1);
    expect(await said.evaluate((words) => words[0])).toBe('logic, five point oh two, inside');
  });

  it('the tab says by title and icon what stands there', async () => {
    const page = await open();
    const icon = () => page.locator('link[rel=icon]').getAttribute('data-shows');
    await page.getByText('All well').waitFor();
    await expect.poll(icon).toBe('well');
    daemon.sendChanges({ alarms: [HOT_CASE] });
    await expect.poll(icon).toBe('alarm');
    daemon.goAway();
    await expect.poll(icon).toBe('lost');
  });
});

/** Runs in the page: gives the browser a voice and writes down what it is told to say. */
function listenToVoice(): string[] {
  const said: string[] = [];
  SpeechSynthesis.prototype.getVoices = () => [{} as SpeechSynthesisVoice];
  SpeechSynthesis.prototype.speak = (words) => void said.push(words.text);
  return said;
}

/** Runs in the page: counts the tones that are started from now on. */
function countTones(): { count: number } {
  const tones = { count: 0 };
  const start = Object.getOwnPropertyDescriptor(AudioScheduledSourceNode.prototype, 'start')?.value as (
    when?: number,
  ) => void;
  AudioScheduledSourceNode.prototype.start = function (when) {
    tones.count += 1;
    start.call(this, when);
  };
  return tones;
}

/** Runs in the page: names the focused control by its path through the shadow roots; fails without an outline. */
function focusedControl(): string {
  let control = document.activeElement;
  let path = '';
  while (control) {
    const siblings = [...(control.getRootNode() as ShadowRoot).querySelectorAll('*')];
    path += `/${siblings.indexOf(control)}`;
    if (!control.shadowRoot?.activeElement) break;
    control = control.shadowRoot.activeElement;
  }
  const holder = control?.closest('.card, .row, .block') ?? control;
  if (!holder || getComputedStyle(holder).outlineStyle === 'none') throw new Error(`no outline at ${path}`);
  return path;
}

describe('a lost connection', () => {
  it('makes everything not live at once, and comes back by itself', async () => {
    const page = await open();
    await page.getByText('All well').waitFor();
    daemon.goAway();
    await page.getByText('Not live: nothing heard for').waitFor();
    expect(await page.locator('rm-supply .verdict', { hasText: 'inside' }).count()).toBe(0);
    expect(await page.locator('rm-supply .old-value').count()).toBe(6);
    expect(await page.getByText('not live, was reading').count()).toBe(INSTRUMENTS.length);
    expect(await page.getByRole('button', { name: 'Add note' }).isDisabled()).toBe(true);
    expect(await page.title()).toBe('Not live – Signal cabin – Railminder');
    daemon.comeBack();
    await page.getByText('All well').waitFor();
    expect(await page.locator('rm-supply .old-value').count()).toBe(0);
  });

  it('from the start tells what to do, and says nothing reassuring', async () => {
    daemon.goAway();
    const page = await open();
    await page.getByText('Not live: no word from the bench yet.').waitFor();
    expect(await page.getByText('No alarms').count()).toBe(0);
  });
});

describe('single changes', () => {
  it('a stale point loses its verdict and shows its age', async () => {
    const page = await open();
    await page.getByText('All well').waitFor();
    const standing = POINTS.find((point) => point.id === 'logic.case')!;
    daemon.sendChanges({ nowMs: NOW_MS + 12_000, points: [{ ...standing, stale: true }] });
    await page.getByText('Logic regulator case has gone silent.').waitFor();
    await page.getByText('stale for 12 s').waitFor();
  });

  it('a gap in the sequence is answered with a request for a snapshot', async () => {
    const page = await open();
    await page.getByText('All well').waitFor();
    daemon.snapshot = troubled();
    daemon.skip();
    daemon.sendChanges({});
    await page.getByText('3 alarms').waitFor();
    expect(daemon.receivedOf('snapshot')).toHaveLength(1);
  });

  it('a refused command is shown until it is put away', async () => {
    const page = await open();
    await page.getByText('All well').waitFor();
    daemon.refuse('There is no alarm “x” any more.');
    await page.getByText('Not done: There is no alarm “x” any more.').waitFor();
    await page.getByRole('button', { name: 'Put away' }).click();
    await page.getByText('Not done').waitFor({ state: 'detached' });
  });

  it('a lost instrument says why', async () => {
    const page = await open();
    await page.getByText('All well').waitFor();
    daemon.sendChanges({
      instruments: [{ ...INSTRUMENTS[0]!, state: 'lost', why: 'unplugged; trying again' }],
    });
    await page.getByText('unplugged; trying again').waitFor();
  });
});

describe('a capture', () => {
  it('is drawn with its ripple beside the prediction and its bars in plain words', async () => {
    const page = await open();
    await page.getByText('All well').waitFor();
    expect(await page.getByText('Captured waveforms').count()).toBe(0);
    daemon.sendChanges({ captures: [reservoirCapture()] });
    await page.getByText(/^Ripple 1\.16.V peak to peak, predicted 0\.94 to 1\.52.V pp\.$/).waitFor();
    await page.getByText('both halves conduct').waitFor();
    await page.getByRole('img', { name: /^Waveform of 100.ms from/ }).waitFor();
  });
});

describe('choosing', () => {
  it('a point shows its chart, and again hides it', async () => {
    const page = await open();
    await page.getByRole('button', { name: 'Logic rail' }).click();
    const name = page.getByRole('button', { name: 'Logic', exact: true });
    await name.click();
    await page.getByRole('img', { name: /^Chart of logic,/ }).waitFor();
    expect(await name.getAttribute('aria-pressed')).toBe('true');
    await name.click();
    await page.getByRole('img', { name: /^Chart of logic,/ }).waitFor({ state: 'detached' });
  });

  it('a part opens all about it, and again closes it', async () => {
    daemon.snapshot = { ...calm(), suspicion: LOOSE_HEATSINK };
    const page = await open();
    const name = page.getByRole('button', { name: 'Logic rail', exact: true });
    await name.click();
    expect(await name.getAttribute('aria-expanded')).toBe('true');
    const part = page.getByRole('region', { name: 'Logic rail' });
    await part.getByText('Fit a heatsink of 9 K/W or better.').waitFor();
    await part.getByText('83 % the heatsink is loose').waitFor();
    await part.getByText('2 faults of this part').waitFor();
    await part.getByRole('img', { name: /^Small chart of logic,/ }).waitFor();
    await page.keyboard.press('Enter');
    await part.waitFor({ state: 'detached' });
  });

  it('the map says who feeds whom, and reflows', async () => {
    const page = await open({ width: 360 });
    const lefts = () =>
      page
        .locator('rm-supply .block')
        .evaluateAll((blocks) => blocks.map((one) => one.getBoundingClientRect().left));
    await page.getByText('All well').waitFor();
    await expect.poll(async () => new Set(await lefts()).size).toBe(1);
    expect(await page.locator('rm-supply .block', { hasText: 'Logic rail' }).textContent()).toMatch(
      /fed by reservoir/,
    );
    await page.setViewportSize({ width: 1280, height: 800 });
    await expect.poll(async () => new Set(await lefts()).size).toBe(4);
  });

  it('another stretch of time changes every chart', async () => {
    const page = await open();
    await page.getByRole('button', { name: '15 min' }).click();
    await page.getByRole('img', { name: /^Chart of air, the last 15.min/ }).waitFor();
    await page.keyboard.press('1');
    await page.getByRole('img', { name: /^Chart of air, the last 1.min/ }).waitFor();
  });

  it('time is moved by keys, mouse, wheel and buttons, in every chart alike', async () => {
    const page = await open();
    const chart = page.getByRole('img', { name: /^Chart of air,/ });
    await chart.focus();
    await page.keyboard.press('ArrowLeft');
    await page.getByRole('img', { name: /^Chart of air, 07:04 to 12:04/ }).waitFor();
    await page.getByRole('img', { name: /^Chart of lamps regulator case, 07:04 to 12:04/ }).waitFor();
    await page.keyboard.press('End');
    await page.getByRole('img', { name: /^Chart of air, the last 5.min/ }).waitFor();
    await page.getByRole('button', { name: 'Zoom in' }).click();
    await page.getByRole('img', { name: /^Chart of air, the last 2.min/ }).waitFor();
    await chart.scrollIntoViewIfNeeded();
    const box = (await chart.boundingBox())!;
    await page.mouse.move(box.x + box.width / 2, box.y + 60);
    await page.mouse.down();
    await page.mouse.move(box.x + box.width - 20, box.y + 60, { steps: 5 });
    await page.mouse.up();
    await page.getByRole('img', { name: /^Chart of air, \d\d:\d\d to \d\d:\d\d/ }).waitFor();
    await page.keyboard.press('0');
    await page.getByRole('img', { name: /^Chart of air, the whole session/ }).waitFor();
    await page.keyboard.down('Control');
    await page.mouse.wheel(0, -400);
    await page.keyboard.up('Control');
    await page.getByRole('img', { name: /^Chart of air, the last \d/ }).waitFor();
  });

  it('what happened stands under the charts in words', async () => {
    const page = await open();
    await page.locator('rm-supply .block').first().waitFor();
    daemon.sendChanges({
      marks: [{ atMs: NOW_MS, kind: 'load', words: 'full load', point: null }],
    });
    await page.getByText('One mark in the charts').click();
    await page.getByText('full load').waitFor();
  });

  it('another channel says that its probe was moved, and waits for the daemon', async () => {
    const page = await open();
    const probe = page.locator('#chart-logic\\.case').getByLabel('Measured by');
    await probe.selectOption('probes t1');
    await expect
      .poll(() => daemon.commands)
      .toEqual([{ kind: 'probe', instrument: 'probes', channel: 't1', point: 'logic.case' }]);
    expect(await probe.inputValue()).toBe('probes t2');
    await probe.selectOption('');
    await expect
      .poll(() => daemon.commands.at(-1))
      .toEqual({ kind: 'probe', instrument: 'probes', channel: 't2', point: null });
  });
});

describe('the demo', () => {
  it('says that it is simulated, how fast it runs, and switches faults in', async () => {
    daemon.snapshot = demo();
    const page = await open();
    await page.getByText('Simulated supply: no mains, no heat, nothing here is real.').waitFor();
    await page.getByText('at 20 times the speed').waitFor();
    await page.getByRole('button', { name: 'Heatsink missing on the logic regulator' }).click();
    await expect.poll(() => daemon.commands).toEqual([{ kind: 'demo-fault', fault: 'heatsink-missing' }]);
    daemon.sendChanges({ demo: demo('heatsink-missing').demo! });
    await page
      .getByRole('button', { name: 'Heatsink missing on the logic regulator', pressed: true })
      .waitFor();
  });

  it('is not claimed on a real bench: there the cautions stand', async () => {
    const page = await open();
    await page.getByText('Mains kills, and a hot part burns.').waitFor();
    expect(await page.getByText('Simulated').count()).toBe(0);
  });
});
