import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { loadDesign } from '../../daemon/design/load.js';
import { suggestedLamp } from '../../daemon/procedure/lamp.js';
import { procedureOf } from '../../daemon/procedure/procedure.js';
import type { CheckView, ProcedureView, SnapshotMessage, StepView } from '../../daemon/serve/messages.js';
import { procedureView } from '../../daemon/serve/procedure-view.js';
import { refusalWords } from '../../daemon/watch/procedure/words.js';
import { beginWatch } from '../../daemon/watch/watch.js';
import { PLAN } from '../daemon/watch/cabin.js';
import { calm, NOW_MS, withPoints } from './signal-cabin.js';

/** The signal cabin's power-up as a page is told of it: the steps of its design, where they stand made up by hand. */

const FILE = fileURLToPath(
  new URL('../../daemon/design/examples/signal-cabin/signal-cabin.design.yaml', import.meta.url),
);

const design = loadDesign(readFileSync(FILE, 'utf8'), FILE);
const procedure = procedureOf(design, {
  load: 'typical',
  lamp: suggestedLamp(design),
  hasCutOff: false,
  canMeasure: (point) => /\.(volts|case)$/.test(point),
});

const FACTS = { procedure, prediction: PLAN.prediction, alarms: [] };

/** Nothing has begun. */
export const UNBEGUN: ProcedureView = procedureView(beginWatch({ ...PLAN, procedure }))!;

/** The steps before `id` are done, it is being done, and what follows can't begin. */
export function walkAt(id: string, change: Partial<StepView> = {}): ProcedureView {
  const at = UNBEGUN.steps.findIndex((step) => step.id === id);
  const step = UNBEGUN.steps[at]!;
  const next = UNBEGUN.steps[at + 1]?.id ?? null;
  const current: StepView = { ...step, status: 'running', beganAtMs: NOW_MS - 60_000, ...change };
  const opens = current.status === 'ready' || current.status === 'overridden';
  return {
    ...UNBEGUN,
    current: id,
    next,
    whyNotNext:
      next === null || opens
        ? null
        : refusalWords({ kind: 'not-done', step: id, missing: missing(current) }, FACTS),
    steps: UNBEGUN.steps.map((one, place) =>
      place < at ? { ...one, status: 'done' } : place === at ? current : one,
    ),
  };
}

function missing({ checks, points }: StepView): string[] {
  return [
    ...checks.filter(({ answer }) => answer === null).map(({ id }) => id),
    ...points.filter(({ captured }) => captured === null).map(({ point }) => point),
  ];
}

/** A step's checks with some of them answered. */
export function answered(
  id: string,
  answers: Readonly<Record<string, readonly [string, boolean]>>,
): CheckView[] {
  const step = UNBEGUN.steps.find((one) => one.id === id);
  return (step?.checks ?? []).map((check) => {
    const [answer, inside] = answers[check.id] ?? [null, null];
    return { ...check, answer, inside };
  });
}

/** A session with this walk. */
export function walking(walk: ProcedureView, snapshot = calm()): SnapshotMessage {
  return { ...snapshot, procedure: walk };
}

/** Three of the cold checks are answered, one of them is outside. */
export const COLD = walkAt('cold-checks', {
  checks: answered('cold-checks', {
    fuse: ['0.315 A', true],
    earth: ['0.12 Ω', true],
  }),
});

const kept = (value: number, verdict: 'inside' | 'outside') => ({ value, verdict, atMs: NOW_MS - 9000 });

/** The logic rail is too high without load. */
export const FAILED = walkAt('rails', {
  status: 'failed',
  failures: ['Logic rail: 5.42 V where 4.80 to 5.20 V is expected.'],
  checks: answered('rails', { lamp: ['yes', true] }),
  points: UNBEGUN.steps
    .find(({ id }) => id === 'rails')!
    .points.map((point) =>
      point.point === 'logic.volts' ? { ...point, captured: kept(5.42, 'outside') } : point,
    ),
});

export const OVERRIDDEN = walkAt('rails', { status: 'overridden', reason: 'The meter reads 0.3 V high' });

export const SIGNED: ProcedureView = {
  ...walkAt('sign-off', { status: 'signed' }),
  ended: 'signed',
  signedBy: 'A. Signalwoman',
  steps: walkAt('sign-off', { status: 'signed' }).steps.map((step) =>
    step.id === 'rails' ? { ...step, status: 'overridden', reason: 'The meter reads 0.3 V high' } : step,
  ),
};

export const ABORTED: ProcedureView = {
  ...walkAt('soak', { status: 'aborted', reason: 'It smells' }),
  ended: 'aborted',
};

/** Every scene of the walk by its name. */
export const WALK_SCENES: Readonly<Record<string, SnapshotMessage>> = {
  'without a power-up': calm(),
  'before the first step': walking(UNBEGUN),
  'first step': walking(COLD),
  'failed step': walking(FAILED, withPoints(calm(), { 'logic.volts': { value: 5.42, verdict: 'outside' } })),
  soak: walking(walkAt('soak')),
  overridden: walking(OVERRIDDEN),
  'sign-off': walking(walkAt('sign-off')),
  'signed off': walking(SIGNED),
  aborted: walking(ABORTED),
};
