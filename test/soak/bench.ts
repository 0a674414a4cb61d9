import { loadBench, loadDesign } from '../../daemon/design/load.js';
import type { Bench } from '../../daemon/design/bench.js';
import type { Design } from '../../daemon/design/design.js';
import type { Written } from '../../daemon/files.js';

const METER = (channel: string): string => `
    driver: scpi-meter
    link: { tcp: 'cabin:5025' }
    options: { interval_ms: 1000 }
    channels: { ${channel}, accuracy: { percent: 0.1, counts: 3, resolution: 0.001 } } }`;
const BOARD = (pattern: string, channels = ''): string => `
    driver: text-lines
    link: { tcp: 'cabin:5025' }
    options: { pattern: '${pattern}', interval_ms: 1000 }${channels}`;
const BUS = (channel: string, measures: string, at = channel): string => `
    driver: modbus-rtu
    link: { tcp: 'cabin:5025' }
    options:
      registers: [{ channel: ${channel}, unit: 1, read: input, address: 0, type: int16, scale: 0.01, measures: ${measures} }]
      interval_ms: 1000${at === channel ? '' : `\n    channels: { ${channel}: { measures: ${measures}, at: ${at} } }`}`;
const HANDHELD = (measures: string): string => `
    driver: lcd-frames
    link: { tcp: 'cabin:5025' }
    channels: { shown: { measures: ${measures} } }`;

/** Sixteen instruments of every driver that has a cable, each with a reading about every second; the scope a capture every five minutes. */
const BENCH = `bench: signal cabin, every cable in use
instruments:
  reservoir-meter:${METER('volts: { measures: dc-volts, at: reservoir.volts')}
  ripple-meter:${METER('ripple: { measures: ac-volts, at: reservoir.ripple')}
  lamp-meter:${METER('volts: { measures: dc-volts, at: lamps.volts')}
  spare-meter:${METER('volts: { measures: dc-volts')}
  logic-board:${BOARD('LOGIC {logic.volts} V')}
  lamp-probe:${BOARD('T1: {lamps.case} C')}
  logic-probe:${BOARD('T2: {logic.case} C')}
  air-probe:${BOARD('AIR {ambient.air} C')}
  spare-board:${BOARD('SPARE {spare} V')}
  spare-probe:${BOARD('S: {bench-top} C')}
  clamp:${BUS('transformer.amps', 'ac-amps')}
  cabin-probe:${BUS('cabin', 'temperature')}
  cellar-probe:${BUS('cellar', 'temperature')}
  handheld:${HANDHELD('dc-volts')}
  handheld-on-ac:${HANDHELD('ac-volts')}
  scope:
    driver: scpi-scope
    link: { tcp: 'cabin:5025' }
    options: { dialect: ten-field, inputs: { ch1: { input: 1 } }, interval_ms: 300000 }
    channels: { ch1: { measures: dc-volts, at: reservoir.valley } }
`;

export interface SoakTable {
  readonly design: Written<Design>;
  readonly bench: Written<Bench>;
}

/** @param designText the signal cabin's design */
export function soakTable(designText: string): SoakTable {
  const [designFile, benchFile] = ['signal-cabin.design.yaml', 'soak.bench.yaml'];
  const design = loadDesign(designText, designFile);
  return {
    design: { file: designFile, text: designText, value: design },
    bench: { file: benchFile, text: BENCH, value: loadBench(BENCH, benchFile, design) },
  };
}
