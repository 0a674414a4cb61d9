import type { RecordingHeader } from '../../../daemon/record/header.js';
import type { WatchEvent } from '../../../daemon/watch/events.js';
import type { WatchPlan } from '../../../daemon/watch/plan.js';

/** A model-railway signal cabin's supply, as far as recordings care. */
export const PLAN: WatchPlan = {
  prediction: {
    points: {
      'logic.volts': {
        id: 'logic.volts',
        label: 'logic rail volts',
        unit: 'V',
        nominal: 5,
        low: 4.8,
        typical: 5,
        high: 5.2,
        worst: { low: 4.8, high: 5.2 },
        widthFrom: [],
        limits: [{ kind: 'damage', side: 'high', value: 5.5, why: 'what the logic load survives' }],
        formula: 'the set volts of a fixed regulator, 4 %',
      },
      'logic.case': {
        id: 'logic.case',
        label: 'logic regulator case',
        unit: 'degC',
        nominal: 52,
        low: 45,
        typical: 52,
        high: 61,
        worst: { low: 45, high: 61 },
        widthFrom: [],
        limits: [{ kind: 'rating', side: 'high', value: 100, why: 'what the regulator stands' }],
        formula: 'ambient + power x thermal resistance',
      },
    },
    parts: {},
    advice: [],
    assumed: [],
    load: 'typical',
    seed: 7,
  },
  channels: [
    {
      instrument: 'meter',
      channel: 'volts',
      intervalMs: 500,
      accuracy: { percent: 0.5, counts: 2, resolution: 0.01 },
    },
    { instrument: 'thermometer', channel: 't1', intervalMs: 1000 },
  ],
};

export const HEADER: RecordingHeader = {
  format: 'railminder-recording',
  version: 3,
  software: 'railminder 0.1.0',
  startedAt: '2026-11-25T08:39:12.345+01:00',
  zone: 'Europe/Berlin',
  design: { file: 'signal-cabin.design.yaml', text: '# Stellwerk, 12 V lamps\nmains:\n  volts: 230\n' },
  bench: { file: 'signal-cabin.bench.yaml', text: 'bench: kitchen table\n' },
  plan: PLAN,
};

export const PROBES_ON: readonly WatchEvent[] = [
  { kind: 'probe', atMs: 0, instrument: 'meter', channel: 'volts', point: 'logic.volts' },
  { kind: 'probe', atMs: 0, instrument: 'thermometer', channel: 't1', point: 'logic.case' },
];

export function volts(atMs: number, value: number): WatchEvent {
  return { kind: 'reading', atMs, instrument: 'meter', channel: 'volts', value, unit: 'V' };
}

export function caseTemperature(atMs: number, value: number): WatchEvent {
  return { kind: 'reading', atMs, instrument: 'thermometer', channel: 't1', value, unit: 'degC' };
}
