import { lcdFrames } from '../../../drivers/lcd-frames/lcd-frames.js';
import type { DeviceSurroundings, DriverContract, GoodDevice } from '../stage.js';
import { meterFrame, type MeterSymbol } from './meter-frames.js';

/** Sends a frame four times a second; its values never come twice. */
function meter({ clock, say, promise }: DeviceSurroundings, unit: MeterSymbol): GoodDevice {
  let frames = 0;
  let cancel: (() => void) | null = null;
  function show(): void {
    frames += 1;
    const digits = String(5000 + (frames % 5000)); // four digits are all that the display has
    promise('logic.volts', Number(`${digits.slice(0, 1)}.${digits.slice(1)}`));
    cancel = clock.after(250, show);
    say(meterFrame(digits, unit, 'DC', '/1000'));
  }
  return {
    wake: () => void (cancel ??= clock.after(250, show)),
    sleep() {
      cancel?.();
      cancel = null;
    },
  };
}

export const CONTRACT: DriverContract = {
  driver: lcdFrames,
  options: {},
  channels: [{ name: 'logic.volts', measures: 'dc-volts' }],
  device: (around) => meter(around, 'V'),
  otherDevice: (around) => meter(around, 'A'),
  otherDeviceFault: 'not-understood',
  endlessFault: 'not-understood',
  longestFrameBytes: 14,
};
