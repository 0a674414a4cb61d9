import { describe, expect, it } from 'vitest';
import { deflection, isDetectable } from './detectable.js';
import { loadTraces, readingsOf, type Trace } from './traces.js';
import { bodyFrom, warmUp } from './ladder.js';

describe('what can be told of an event at all', () => {
  const traces = loadTraces();
  const byId = (id: string): Trace => traces.find((trace) => trace.id === id)!;

  it('is nothing where no reading came within half a minute', () => {
    expect(deflection(byId('T005'), 222.3)).toBe(0);
    expect(deflection(byId('T014'), 2604.4)).toBe(0);
  });

  it('is nothing where a load step changes no power', () => {
    expect(isDetectable(byId('T008'), 1409.9)).toBe(false);
  });

  it('is a lot where power goes off', () => {
    expect(deflection(byId('T105'), 5199.8)).toBeGreaterThan(100);
  });

  it('comes from curves within 0.6 K, in the middle, of what an outside integrator and its noise read', () => {
    const trace = byId('T003');
    const { truth, sample_rate_Hz } = trace;
    const stretches = truth.segments.map((one) => ({
      startS: one.t_start_s,
      powerW: one.power_W,
      airC: one.local_ambient_C,
      convection: one.convection_factor,
      event: null,
      isLifted: false,
    }));
    const { read } = warmUp(bodyFrom(truth), stretches, truth.sensor_lag_s, 9, 1300, sample_rate_Hz);
    const offs = [...readingsOf(trace)]
      .filter(([seconds]) => seconds < 1300)
      .map(([seconds, celsius]) => Math.abs(celsius - read[Math.round(seconds * sample_rate_Hz)]!))
      .toSorted((a, b) => a - b);
    expect(offs[Math.floor(offs.length / 2)]).toBeLessThan(0.6);
  });
});
