import { describe, expect, it } from 'vitest';
import { standsInStep, type InStep } from '../../../../daemon/watch/procedure/stands-in-step.js';
import type { Moving, Standing } from '../../../../daemon/watch/settling/settling.js';
import { beginStretch } from '../../../../daemon/watch/settling/stretch.js';
import { unmeasuredPoint, type PointState } from '../../../../daemon/watch/state.js';

const NOW = 1_000_000;

const standing = (sinceMs: number): Standing => ({
  kind: 'standing',
  value: 50,
  deviation: 0.1,
  deviationOfMean: 0.01,
  sinceMs,
  count: 100,
  tolerance: 0.4,
  toldValue: 50,
});
const moving = (fromMs: number): Moving => ({
  kind: 'moving',
  because: 'drifting',
  sinceMs: 0,
  stretch: beginStretch(fromMs, 50),
  resolution: 0.1,
  stoodAt: null,
});
const goingTo = (typical: number) => ({
  settled: { low: typical - 2, typical, high: typical + 2 },
  timeConstantS: { low: 100, typical: 200, high: 300 },
  crossings: [],
});

function stands(point: Partial<PointState>, step: Partial<InStep> = {}): boolean {
  const inStep = { isTemperature: false, typed: false, fromMs: 0, atMs: NOW, ...step };
  return standsInStep({ ...unmeasuredPoint('logic.volts'), value: 50, ...point }, inStep);
}

describe('volts in a step', () => {
  it('count once the core says that they stand still, for three seconds of the step', () => {
    expect(stands({ settling: standing(NOW - 3000) })).toBe(true);
    expect(stands({ settling: standing(NOW - 2900) })).toBe(false);
    expect(stands({ settling: moving(NOW - 60_000) })).toBe(false);
    expect(stands({ settling: null })).toBe(false);
  });

  it('that stood before it began must go on standing in it', () => {
    const settling = standing(NOW - 60_000);
    expect(stands({ settling }, { fromMs: NOW - 2000 })).toBe(false);
    expect(stands({ settling }, { fromMs: NOW - 3000 })).toBe(true);
  });

  it('that a person reads off stand still at once', () => {
    expect(stands({ settling: standing(NOW) }, { typed: true, fromMs: NOW })).toBe(true);
  });
});

describe('a temperature in a step', () => {
  const warm = { isTemperature: true };

  it('counts when it has stood for two minutes of the step', () => {
    expect(stands({ settling: standing(NOW - 120_000) }, warm)).toBe(true);
    expect(stands({ settling: standing(0) }, { ...warm, fromMs: NOW - 119_000 })).toBe(false);
  });

  it('counts sooner where its forecast says that it has arrived', () => {
    const arrived = { settling: moving(NOW - 30_000), forecast: goingTo(51) };
    expect(stands(arrived, warm)).toBe(true);
    expect(stands(arrived, { ...warm, fromMs: NOW - 20_000 })).toBe(false);
    expect(stands({ ...arrived, forecast: goingTo(52) }, warm)).toBe(false);
    expect(stands({ ...arrived, settling: moving(NOW - 20_000) }, warm)).toBe(false);
  });
});
