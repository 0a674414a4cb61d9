import type { Driver } from './driver.js';
import { byHand } from './by-hand/by-hand.js';
import { lcdFrames } from './lcd-frames/lcd-frames.js';
import { modbusRtu } from './modbus-rtu/modbus-rtu.js';
import { scpiMeter } from './scpi-meter/scpi-meter.js';
import { scpiScope } from './scpi-scope/scpi-scope.js';
import { textLines } from './text-lines/text-lines.js';

/** Every driver under the word that the bench file uses for it. A new driver adds one line here. */
export const DRIVERS: Readonly<Record<string, Driver>> = {
  'by-hand': byHand,
  'lcd-frames': lcdFrames,
  'modbus-rtu': modbusRtu,
  'scpi-meter': scpiMeter,
  'scpi-scope': scpiScope,
  'text-lines': textLines,
};
