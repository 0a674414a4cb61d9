import type { JoinedOutput } from './outputs.js';
import type { CutOffEffect } from './watch/effects.js';
import type { CutOffPlan } from './watch/plan.js';

/** The outputs that may be switched, with the alarms that drop each. */
export function cutOffPlans(outputs: readonly JoinedOutput[]): readonly CutOffPlan[] {
  return outputs
    .filter(({ spec }) => spec.armed)
    .map(({ name, spec }) => ({
      output: name,
      on: spec.cuts_off_on ?? [],
      at: spec.cuts_off_at ?? null,
    }));
}

const WANTED: Partial<Readonly<Record<CutOffEffect['change'], 'on' | 'off'>>> = {
  dropped: 'off',
  test: 'off',
  'switch-off': 'off',
  'switch-on': 'on',
};

/** Where an output is to be switched for this effect; null: nowhere. */
export function wantedPosition({ change }: CutOffEffect): 'on' | 'off' | null {
  return WANTED[change] ?? null;
}
