import { modbusRtu } from '../../../drivers/modbus-rtu/modbus-rtu.js';
import { type DeviceSurroundings, type DriverContract, type GoodDevice } from '../stage.js';
import { slave } from './slave.js';
import { register } from './stage.js';

const options = {
  registers: [register('lamps.case', 0, { scale: 0.01 }), register('logic.case', 1, { scale: 0.01 })],
  interval_ms: 200,
};

/** Answers 20 ms after each question; its registers never hold a value twice. */
function device(around: DeviceSurroundings, hasRegisters: boolean, ignores: readonly number[]): GoodDevice {
  const { clock, say, promise, onHeard } = around;
  const ILLEGAL_DATA_ADDRESS = 2;
  let awake = false;
  let answers = 0;
  function registers(_: number, address: number, count: number): readonly number[] | number {
    if (!hasRegisters || address + count > 2) return ILLEGAL_DATA_ADDRESS;
    answers += 1;
    const turn = answers % 9000; // the first register stays below the second, both within plausible temperatures
    const all = [4100 + turn, 13_800 + turn];
    const asked = all.slice(address, address + count);
    asked.forEach((value, index) => {
      const channel = ['lamps.case', 'logic.case'][address + index] ?? '';
      promise(channel, Number(`${Math.floor(value / 100)}.${String(value % 100).padStart(2, '0')}`));
    });
    return asked;
  }
  const bus = slave({ clock, unit: 1, say: (frame) => awake && say(frame), registers, ignores });
  onHeard((text) => bus.hear(Buffer.from(text, 'latin1')));
  return { wake: () => void (awake = true), sleep: () => void (awake = false) };
}

const COMMON = {
  driver: modbusRtu,
  options,
  channels: modbusRtu.channelsOf(options),
  otherDevice: (around: DeviceSurroundings) => device(around, false, []),
  otherDeviceFault: 'instrument-error',
  endlessFault: 'not-understood',
  longestFrameBytes: 9,
  checkBits: 16, // the CRC of MODBUS over Serial Line V1.02, 6.2.2
} as const;

export const CONTRACT: DriverContract = { ...COMMON, device: (around) => device(around, true, []) };

/** A device that leaves questions for coils unanswered must be read as well. */
export const WITHOUT_COILS: DriverContract = { ...COMMON, device: (around) => device(around, true, [1]) };
