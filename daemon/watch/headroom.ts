import { followRaise, followReturn, pointAlarm, type Raising } from './alarms.js';
import { longer, type Delay } from './hold.js';
import type { Draft } from './draft.js';
import { knownAt, measuredAt } from './known-value.js';
import type { RailPlan } from './plan.js';
import { predictionOf, sampleDeadband, type Sample } from './sample.js';
import { isTelling } from './settling/settle-point.js';
import { supplyLooksOff } from './supply-off.js';

/** As long as a supply takes to come up; a rail without headroom hums and sags, it destroys nothing. */
const ON_DELAY: Delay = { readings: 3, ms: 3000 };

/**
 * Follows the no-headroom alarms of all rails that this point feeds. What the regulator has left is its input at the
 * lowest of each cycle less the volts that it is set to; it needs its dropout there (three-terminal regulators'
 * datasheets: minimum input = output + dropout).
 */
export function followHeadroom(draft: Draft, sample: Sample): void {
  const rails = draft.plan.supply?.rails ?? [];
  const node = sample.point.id.slice(0, sample.point.id.lastIndexOf('.'));
  for (const rail of rails) if (rail.from === node) followRail(draft, sample, rail);
}

function followRail(draft: Draft, sample: Sample, rail: RailPlan): void {
  const raising = raisingOf(draft, sample, rail);
  if (raising === null) return;
  const { id, cause } = raising;
  const missing = cause.needsVolts - (cause.inputVolts - cause.setVolts);
  const alarm = pointAlarm(draft, 'no-headroom', cause.point);
  const hold = draft.holds[id] ?? null;
  if (alarm?.active === true) {
    const isClear = missing < -sampleDeadband(sample) || supplyLooksOff(draft, sample, hold);
    draft.setHold(id, followReturn(draft, hold, isClear, alarm));
  } else if (missing <= sample.guard || supplyLooksOff(draft, sample, hold)) draft.setHold(id, null);
  else if (isInputPending(draft, rail.from)) draft.setHold(id, longer(hold, draft.atMs));
  else draft.setHold(id, followRaise(draft, hold, ON_DELAY, raising));
}

/** What feeds the rail is about to be told itself, or still moves: it explains this and goes first. */
function isInputPending(draft: Draft, node: string): boolean {
  const input = draft.points[draft.pointAt(`${node}.volts`)];
  if (input === undefined || input.channel === null) return false;
  if (pointAlarm(draft, 'outside-prediction', input.id)?.active === true) return false;
  if (input.settling === null || input.outside !== null) return true;
  const { unit } = draft.prediction.points[input.id]!;
  return !isTelling(input.settling, unit, draft.atMs, draft.plan.channels[input.channel]!.intervalMs);
}

type HeadroomRaising = Raising & {
  readonly cause: Extract<Raising['cause'], { kind: 'no-headroom' }>;
};

function raisingOf(draft: Draft, sample: Sample, rail: RailPlan): HeadroomRaising | null {
  const valley = valleyWith(draft, sample, rail.from);
  const set = predictionOf(draft.plan.prediction, `${rail.name}.volts`)?.nominal;
  if (valley === null || set === undefined || rail.dropoutVolts === null) return null;
  return noHeadroom(draft, rail, { valley, set, needs: rail.dropoutVolts });
}

/** The alarm of a rail whose regulator has too little to work with. */
export function noHeadroom(
  draft: Draft,
  { name, from }: RailPlan,
  { valley, set, needs }: { readonly valley: number; readonly set: number; readonly needs: number },
): HeadroomRaising {
  const point = `${name}.volts`;
  const survivesLow = predictionOf(draft.prediction, point)?.limits.some(
    ({ kind, side, value }) => kind === 'damage' && (side === 'low') === value > 0,
  );
  return {
    id: `no-headroom:${point}`,
    cause: {
      kind: 'no-headroom',
      point,
      input: `${from}.volts`,
      inputVolts: Math.abs(valley),
      setVolts: Math.abs(set),
      needsVolts: needs,
    },
    // Where too few volts do harm, the next sag of the mains does it.
    priority: survivesLow === true ? 'medium' : 'low',
    latched: false,
    suppressedBy: [],
  };
}

/** The lowest of each cycle at a node with this newest number counted in; null where nobody measures it. */
function valleyWith(draft: Draft, { point, value }: Sample, node: string): number | null {
  if (point.id === `${node}.valley`) return value;
  const measured = point.id === `${node}.volts` ? value : measuredAt(draft, `${node}.volts`);
  const ripple = point.id === `${node}.ripple` ? value : (knownAt(draft, `${node}.ripple`)?.typical ?? 0);
  if (measured === null) return null;
  return Math.sign(measured) * Math.max(0, Math.abs(measured) - ripple / 2);
}
