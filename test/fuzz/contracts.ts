import { CONTRACT as lcdFrames } from '../drivers/lcd-frames/contract-device.js';
import { CONTRACT as modbusRtu } from '../drivers/modbus-rtu/contract-device.js';
import { CONTRACT as scpiMeter } from '../drivers/scpi-meter/contract-device.js';
import { CONTRACT as scpiScope } from '../drivers/scpi-scope/contract-device.js';
import { CONTRACT as textLines } from '../drivers/text-lines/contract-device.js';
import type { DriverContract } from '../drivers/stage.js';

/** Every driver that reads a device, with a device for it. */
export const CONTRACTS: readonly DriverContract[] = [lcdFrames, modbusRtu, scpiMeter, scpiScope, textLines];
