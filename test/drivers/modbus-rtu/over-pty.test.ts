import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { ServerSerial, type IServiceVector } from 'modbus-serial';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { InstrumentEvent, RunningInstrument } from '../../../drivers/driver.js';
import { serialLink } from '../../../drivers/links/serial.js';
import { modbusRtu } from '../../../drivers/modbus-rtu/modbus-rtu.js';
import { systemClock } from '../../../drivers/system-clock.js';
import { faultsOf, readingsOf, statesOf } from '../events.js';
import { openPtyPair, type PtyPair } from '../pty.js';
import { register } from './stage.js';

const VOLTS = { measures: 'dc-volts', read: 'input', unit: 17 };
const OPTIONS = {
  registers: [
    register('lamps.case', 0, { scale: 0.1 }),
    register('logic.case', 1, { scale: 0.1 }),
    register('reservoir.volts', 8, { ...VOLTS, type: 'float32', order: 'CDAB' }),
    register('lamps.volts', 10, { ...VOLTS, type: 'uint32', scale: 0.001 }),
  ],
  interval_ms: 100,
  timeout_ms: 300,
};

// 23.5 is 41BC0000 in IEEE 754; here its lower half comes first.
const HOLDING: Readonly<Record<number, number>> = { 0: 413, 1: 0xffff };
const INPUT: Readonly<Record<number, number>> = { 8: 0x0000, 9: 0x41bc, 10: 0, 11: 12_060 };
const EXPECTED = [
  'lamps.case 41.3 degC',
  'logic.case -0.1 degC',
  'reservoir.volts 23.5 V',
  'lamps.volts 12.06 V',
];

const REGISTERS: IServiceVector = {
  getHoldingRegister: (address: number) => HOLDING[address] ?? 0,
  getInputRegister: (address: number) => INPUT[address] ?? 0,
};

/** The slaves are a general-purpose MODBUS library's; bytes go over two pseudo-terminals with a joint between. */
describe.skipIf(process.platform === 'win32')('modbus-rtu over a serial link', () => {
  let directory: string;
  let near: PtyPair;
  let far: PtyPair;
  let slaves: ServerSerial;
  let running: RunningInstrument;
  let events: InstrumentEvent[];
  let onEvent: () => void;

  beforeEach(async () => {
    directory = await mkdtemp(join(tmpdir(), 'railminder-pty-'));
    near = await openPtyPair(directory, 'near');
    far = await openPtyPair(directory, 'far');
    near.onData((bytes) => void far.write(bytes));
    events = [];
    onEvent = () => undefined;
  });

  afterEach(async () => {
    await running.stop();
    await new Promise((resolve) => slaves.close(resolve));
    await near.unplug();
    await far.unplug();
    await rm(directory, { recursive: true });
  });

  async function start(vector: IServiceVector, cut: (bytes: Buffer) => readonly Buffer[]): Promise<void> {
    far.onData((bytes) => cut(bytes).forEach((chunk) => void near.write(chunk)));
    slaves = new ServerSerial(vector, { path: far.devicePath, baudRate: 9600 });
    await new Promise((resolve) => slaves.on('initialized', () => resolve(undefined)));
    const clock = systemClock();
    running = modbusRtu.start({
      instrument: 'line',
      link: serialLink({ path: near.devicePath, baud: 9600, clock }),
      channels: modbusRtu.channelsOf(OPTIONS),
      options: OPTIONS,
      clock,
      emit: (event) => {
        events.push(event);
        onEvent();
      },
    });
  }

  function until(sees: () => boolean): Promise<void> {
    return new Promise((resolve) => {
      onEvent = () => void (sees() && resolve());
      onEvent();
    });
  }

  const hasAll = (seen: readonly InstrumentEvent[]): boolean =>
    EXPECTED.every((reading) => readingsOf(seen).includes(reading));

  it.each([
    ['with coils', { getCoil: () => false }],
    ['without coils, which leave markers unanswered', {}],
  ])('reads two slaves %s, and again after an unplug', async (_, more) => {
    await start({ ...REGISTERS, ...more }, (bytes) => [bytes]);
    await until(() => hasAll(events));
    await near.unplug();
    await until(() => statesOf(events).includes('lost'));
    const before = events.length;
    await near.replug();
    await until(() => hasAll(events.slice(before)));
    expect(new Set(readingsOf(events))).toEqual(new Set(EXPECTED));
  });

  it('reads answers that come in pieces', async () => {
    const { length } = EXPECTED;
    await start({ ...REGISTERS, getCoil: () => false }, (bytes) => [bytes.subarray(0, 3), bytes.subarray(3)]);
    await until(() => hasAll(events) && readingsOf(events).length >= 5 * length);
    expect(new Set(readingsOf(events))).toEqual(new Set(EXPECTED));
  });

  it('tells the exception of a slave that fails', async () => {
    const getHoldingRegister = (): number => {
      throw Object.assign(new Error('busy'), { modbusErrorCode: 6 });
    };
    await start({ ...REGISTERS, getCoil: () => false, getHoldingRegister }, (bytes) => [bytes]);
    await until(() => readingsOf(events).length > 2 && faultsOf(events).length > 0);
    expect(faultsOf(events)[0]).toMatch(
      /^instrument-error: unit 1 refuses .*exception 06, server device busy$/,
    );
    expect(new Set(readingsOf(events))).toEqual(new Set(EXPECTED.slice(2)));
  });
});
