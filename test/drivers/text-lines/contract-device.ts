import { textLines } from '../../../drivers/text-lines/text-lines.js';
import type { DeviceSurroundings, DriverContract, GoodDevice } from '../stage.js';

const options = { pattern: 'T1: {lamps.case} C, T2: {logic.case} C' };

/** Prints a line every 100 ms; its values never come twice. */
function board(
  { clock, say, promise }: DeviceSurroundings,
  line: (a: string, b: string) => string,
): GoodDevice {
  let lines = 0;
  let cancel: (() => void) | null = null;
  function print(): void {
    lines += 1;
    const lamps = (41 + lines / 1000).toFixed(3);
    const logic = (38 + lines / 1000).toFixed(3);
    promise('lamps.case', Number(lamps));
    promise('logic.case', Number(logic));
    cancel = clock.after(100, print);
    say(line(lamps, logic));
  }
  return {
    wake: () => void (cancel ??= clock.after(100, print)),
    sleep() {
      cancel?.();
      cancel = null;
    },
  };
}

export const CONTRACT: DriverContract = {
  driver: textLines,
  options,
  channels: textLines.channelsOf(options),
  device: (around) => board(around, (a, b) => `T1: ${a} C, T2: ${b} C\r\n`),
  otherDevice: (around) => board(around, (a, b) => `rpm=${a} duty=${b}\r\n`),
  otherDeviceFault: 'not-understood',
  longestFrameBytes: 'T1: 41.001 C, T2: 38.001 C\r\n'.length,
};
