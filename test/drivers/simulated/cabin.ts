import { benchSchema } from '../../../daemon/design/bench.js';
import type { Bench } from '../../../daemon/design/bench.js';
import { designSchema } from '../../../daemon/design/design.js';
import type { Design } from '../../../daemon/design/design.js';

/** The supply of a model-railway signal cabin: a 12 V lamp rail and a 5 V logic rail. */
export const CABIN: Design = designSchema.parse({
  design: 'Signal cabin supply',
  mains: { volts: 230, hertz: 50 },
  transformer: { volts: 15, va: 30, regulation_percent: 12 },
  rectifier: { kind: 'bridge', diode: '1N4007' },
  reservoir: { capacity_uF: 4700, esr: 0.05 },
  rails: {
    lamps: {
      regulator: 'LM317',
      r1: 240,
      r2: 2050,
      cooling: { heatsink: 8 },
      load: { idle: 0.05, typical: 0.4, full: 0.5 },
    },
    logic: {
      regulator: '7805',
      cooling: { heatsink: 6 },
      load: { idle: 0.08, typical: 0.25, full: 0.3 },
      damage: { low: 4.75, high: 5.5 },
    },
  },
});

/** Three instruments around it. The links are never opened by the simulated bench. */
export const CABIN_BENCH: Bench = benchSchema.parse({
  bench: 'Cabin table',
  instruments: {
    meter: {
      driver: 'scpi-meter',
      link: { serial: '/dev/ttyUSB0' },
      channels: { volts: { measures: 'dc-volts', at: 'reservoir.volts' } },
    },
    probes: {
      driver: 'text-lines',
      link: { serial: '/dev/ttyUSB1' },
      options: { pattern: 'T1: {lamps.case} C, T2: {logic.case} C' },
    },
    rails: {
      driver: 'text-lines',
      link: { serial: '/dev/ttyUSB2' },
      options: { pattern: 'LAMPS {lamps.volts} V LOGIC {logic.volts} V', interval_ms: 500 },
    },
  },
});
