import type { ExpectEvent } from '../events.js';
import type { WatchState } from '../state.js';
import { currentStep } from './take-step.js';

/** The bands that should stand because of the power-up's step; null when they do already. */
export function expectationOf(state: WatchState): ExpectEvent | null {
  const { procedure, expecting, plan, nowMs } = state;
  if (procedure === null) return null;
  const current = procedure.ended === null ? currentStep(state)?.step : undefined;
  const powered = current !== undefined && Object.keys(current.bands).length > 0 ? current : null;
  if ((expecting?.step ?? null) === (powered?.id ?? null)) return null;
  const { load, bands } = powered ?? { load: plan.prediction.load, bands: {} };
  return { kind: 'expect', atMs: nowMs, load, step: powered?.id ?? null, measured: [], bands };
}
