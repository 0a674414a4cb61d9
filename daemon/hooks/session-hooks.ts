import type { Session, StepListener } from '../session.js';
import { backgroundWall, type Wall } from '../time/wall.js';
import type { Priority } from '../watch/alarm.js';
import type { AlarmEffect } from '../watch/effects.js';
import { alarmWords } from '../watch/words.js';
import type { Hook, HookAlarm } from './hook.js';
import { HookQueue } from './hook-queue.js';

const RANK: Readonly<Record<Priority, number>> = { high: 0, medium: 1, low: 2 };
const CALLS: readonly AlarmEffect['change'][] = ['raised', 'worse', 'unsuppressed', 'unshelved'];

export interface HookedSession {
  /** What the design calls itself. */
  readonly design: string;
  readonly startedAt: Date;
  readonly wall?: Wall;
}

/**
 * Tells the hooks of every alarm that asks for a person while the session runs. What comes of it is an event of the
 * session. A replay has no session, so it runs nothing.
 * @returns ends it, once what runs has come to its end
 */
export function hookSession(
  session: Pick<Session, 'onStep' | 'tell' | 'plan'>,
  hooks: readonly Hook[],
  { design, startedAt, wall = backgroundWall }: HookedSession,
): () => Promise<void> {
  const queue = new HookQueue(wall, (outcome) => session.tell({ kind: 'hook', atMs: 0, ...outcome }));
  const listener: StepListener = (_event, _state, effects) => {
    for (const effect of effects) {
      if (effect.kind !== 'alarm' || !asksForSomebody(effect)) continue;
      const wanted = hooks.filter(({ priority }) => RANK[effect.alarm.priority] <= RANK[priority]);
      if (wanted.length === 0) continue;
      const text = JSON.stringify(told(effect));
      for (const hook of wanted) queue.deliver(hook, effect.alarm.id, text);
    }
  };

  function told({ alarm, change, atMs }: AlarmEffect): HookAlarm {
    const { id, priority, firstUp, cause } = alarm;
    return {
      alarm: id,
      change: change as HookAlarm['change'],
      priority,
      firstUp,
      atMs,
      at: new Date(startedAt.getTime() + atMs).toISOString(),
      design,
      ...alarmWords(cause, session.plan.prediction),
      cause,
    };
  }

  if (hooks.length > 0) session.onStep(listener);
  return () => queue.stop();
}

/** What another alarm explains, or a person has put aside or acknowledged, calls nobody. */
function asksForSomebody({ change, alarm }: AlarmEffect): boolean {
  const isAside = alarm.suppressedBy.length > 0 || alarm.shelvedUntilMs !== null || alarm.acknowledged;
  return CALLS.includes(change) && !isAside;
}
