import { mkdtemp, readdir, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it, onTestFinished } from 'vitest';
import { loadBench } from '../../../daemon/design/load.js';
import { editedBench } from '../../../daemon/desk/bench-edits.js';
import type { InstrumentDesk, ListeningView } from '../../../daemon/serve/instrument-messages.js';
import { lineBoardDevice } from '../../../drivers/simulated/line-board-device.js';
import { seededRandom } from '../../../drivers/simulated/random.js';
import { systemClock } from '../../../drivers/system-clock.js';
import { openPtyPair } from '../../drivers/pty.js';
import { CABIN_BENCH } from './cabin-text.js';
import { OWN_BENCH, testInstrumentDesk } from './instrument-bench.js';

/** A board behind a pseudo-terminal that prints two temperatures ten times a second. */
async function printingBoard(): Promise<string> {
  const folder = await mkdtemp(join(tmpdir(), 'railminder-pty-'));
  const pty = await openPtyPair(folder);
  const board = lineBoardDevice({
    end: { send: (bytes) => void pty.write(bytes), onBytes: (listener) => pty.onData(listener) },
    clock: systemClock(),
    random: seededRandom(7),
    patterns: ['T1: {lamps.case} C, T2: {logic.case} C'],
    intervalMs: 100,
    measurandOf: () => 'temperature',
    measure: (name) => (name === 'lamps.case' ? 41 : 38),
  });
  board.start();
  onTestFinished(async () => {
    board.stop();
    await pty.unplug();
    await rm(folder, { recursive: true, force: true });
  });
  return pty.devicePath;
}

async function untilOver(desk: InstrumentDesk): Promise<ListeningView> {
  for (;;) {
    const view = await desk.listening();
    if ('isOver' in view && view.isOver) return view as ListeningView;
    await new Promise((resolve) => setTimeout(resolve, 50));
  }
}

describe.skipIf(process.platform === 'win32')('listening at a port', () => {
  it('shows lines and their readings side by side, and a proposal that a bench takes', async () => {
    const port = await printingBoard();
    const { desk } = await testInstrumentDesk();
    expect(await desk.listen({ port, seconds: 1 })).toMatchObject({ port, isOver: false, why: null });
    const view = await untilOver(desk);
    expect(view).toMatchObject({ baud: 9600, why: null });
    const line = view.lines.at(-1);
    const [, first = '', second = ''] = /^T1: ([\d.]+) C, T2: ([\d.]+) C$/.exec(line?.text ?? '') ?? [];
    // What the board prints is the value: the line itself says what must be read.
    expect(line?.readings).toEqual([
      { channel: 't1', value: Number(first), unit: 'degC', mark: null },
      { channel: 't2', value: Number(second), unit: 'degC', mark: null },
    ]);
    const instrument = view.proposal;
    expect(instrument).toMatchObject({ driver: 'text-lines', link: { serial: port, baud: 9600 } });
    if (instrument === null) throw new Error('nothing was proposed');
    const text = editedBench(CABIN_BENCH, { kind: 'add', instrument });
    expect(loadBench(text, 'x').instruments['board']).toMatchObject({ options: instrument.options });
  });

  it('is ended early by a person, and the port is free for the next', async () => {
    const port = await printingBoard();
    const { desk } = await testInstrumentDesk();
    await desk.listen({ port, seconds: 60 });
    expect(await desk.hush()).toMatchObject({ isOver: true });
    await desk.listen({ port, seconds: 1 });
    expect((await untilOver(desk)).proposal).not.toBeNull();
  });

  it('a port that is not there is told in words', async () => {
    const { desk } = await testInstrumentDesk();
    await desk.listen({ port: '/dev/cabin-nowhere', seconds: 1 });
    expect((await untilOver(desk)).why).toMatch(/cabin-nowhere/);
  });

  it('what the running session holds is not opened', async () => {
    const { desk } = await testInstrumentDesk({
      held: [{ name: 'relay', link: { serial: '/dev/ttyUSB9', baud: 9600 } }],
      listenAt: () => Promise.reject(new Error('opened')),
    });
    const view = await desk.listen({ port: '/dev/ttyUSB9', seconds: 1 });
    expect(view).toMatchObject({ isOver: true, proposal: null });
    expect(view.why).toMatch(/in use by relay of the running session/);
  });
});

describe('what is plugged in', () => {
  const port = {
    path: '/dev/ttyACM0',
    kind: 'serial',
    usb: '1a86:7523',
    serial: 'SC1',
    maker: null,
    product: 'board',
  } as const;

  it.each([
    ['its path', { serial: '/dev/ttyACM0', baud: 9600 }],
    ['its kind', { usb: '1A86:7523', baud: 9600 }],
    ['its kind and serial number', { usb: '1a86:7523:SC1', baud: 9600 }],
  ])('is held when the session names %s', async (_, link) => {
    const { desk } = await testInstrumentDesk({
      held: [{ name: 'probes', link }],
      listPorts: () => Promise.resolve([port]),
    });
    const { ports } = await desk.ports();
    expect(ports).toEqual([
      { path: port.path, kind: 'serial', about: 'board, USB 1a86:7523, SC1', heldBy: 'probes' },
    ]);
    expect((await desk.listen({ port: port.path, seconds: 1 })).why).toMatch(/probes/);
  });

  it('another of its kind is free', async () => {
    const { desk } = await testInstrumentDesk({
      held: [{ name: 'probes', link: { usb: '1a86:7523:SC2', baud: 9600 } }],
      listPorts: () => Promise.resolve([port]),
    });
    expect((await desk.ports()).ports[0]?.heldBy).toBeNull();
  });

  it('a system that does not tell is told of', async () => {
    const { desk } = await testInstrumentDesk({ listPorts: () => Promise.reject(new Error('install udev')) });
    expect(await desk.ports()).toEqual({ ports: [], why: 'install udev' });
  });
});

describe('a pattern against lines', () => {
  it('reads what it can, line by line', async () => {
    const { desk } = await testInstrumentDesk();
    const { lines, problem } = await desk.try({ pattern: 'V {logic.volts} V', lines: ['ready', 'V 5.02 V'] });
    expect(problem).toBe('');
    expect(lines.map(({ readings }) => readings.map(({ value }) => value))).toEqual([[], [5.02]]);
  });

  it('says what is wrong with it', async () => {
    const { desk } = await testInstrumentDesk();
    const { lines, problem } = await desk.try({ pattern: 'no braces', lines: ['V 5.02 V'] });
    expect(problem).toMatch(/allowed is/);
    expect(lines).toEqual([{ text: 'V 5.02 V', readings: [] }]);
  });
});

describe('the bench file', () => {
  it('is a form with links, channels, sensors and what is wrong', async () => {
    const { desk } = await testInstrumentDesk();
    const { text, file, points, byHand } = await desk.open();
    expect(file).toBe(OWN_BENCH);
    expect(points.map(({ id }) => id)).toContain('logic.volts');
    const path = ['instruments', 'probes', 'channels', 'logic.case', 'at'];
    const preview = await desk.preview({
      text,
      edits: [
        { kind: 'set', path, value: 'logic.volt' },
        { kind: 'add', instrument: byHand },
      ],
    });
    expect(preview.instruments.map(({ name }) => name)).toEqual(['meter', 'probes', 'rails', 'hand-meter']);
    expect(preview.instruments[1]).toMatchObject({
      link: { kind: 'serial', place: '/dev/ttyUSB1', baud: 115200 },
    });
    expect(preview.problems).toMatchObject([{ key: path.join('.') }]);
  });

  it('is saved with its remarks, and refused when it was changed meanwhile', async () => {
    const { desk, read, folder } = await testInstrumentDesk();
    const { version, byHand, text } = await desk.open();
    const edited = await desk.preview({ text, edits: [{ kind: 'add', instrument: byHand }] });
    expect(edited.problems).toEqual([]);
    const saved = await desk.save({ text: edited.text, file: OWN_BENCH, version });
    expect(saved.why).toBeNull();
    expect(await read(OWN_BENCH)).toContain('# a board with two voltage inputs');
    await writeFile(join(folder, OWN_BENCH), CABIN_BENCH);
    expect((await desk.save({ text, file: OWN_BENCH, version: saved.version })).why).toMatch(
      /changed by another/,
    );
    expect(await readdir(folder)).toEqual([OWN_BENCH]);
  });

  it.each([
    ['a hook', `${CABIN_BENCH}hooks: [{ run: [./siren] }]\n`, /hooks are changed in the file itself/],
    [
      'an output',
      `${CABIN_BENCH}outputs: { k: { driver: relay-lines, link: { serial: COM7 } } }\n`,
      /outputs are changed/,
    ],
    ['a driver from outside', CABIN_BENCH.replace('driver: scpi-meter', 'driver: ./meter.mjs'), /meter\.mjs/],
    [
      'a test point that there is not',
      CABIN_BENCH.replace('at: reservoir.volts', 'at: crane.volts'),
      /channels.volts.at: .*no such test point/,
    ],
    ['no YAML', 'bench: [', /Not saved/],
  ])('is not saved with %s', async (_, text, why) => {
    const { desk, read } = await testInstrumentDesk();
    const { version } = await desk.open();
    expect((await desk.save({ text, file: OWN_BENCH, version })).why).toMatch(why);
    expect(await read(OWN_BENCH)).toBe(CABIN_BENCH);
  });

  it.each(['../out.bench.yaml', '/tmp/out.bench.yaml', 'a/b.bench.yaml', 'x.design.yaml', '.bench.yaml'])(
    'is not written to %j',
    async (file) => {
      const { desk, folder } = await testInstrumentDesk();
      expect((await desk.save({ text: CABIN_BENCH, file, version: null })).why).toMatch(/is allowed/);
      expect(await readdir(folder)).toEqual([OWN_BENCH]);
    },
  );
});
