import type { Session, StepListener } from '../session.js';
import { BackOff } from '../back-off.js';
import { backgroundWall, type Wall } from '../time/wall.js';
import type { AlarmCause, AlarmFacts, Priority } from '../watch/alarm.js';
import type { AlarmEffect } from '../watch/effects.js';
import { alarmWords } from '../watch/words.js';
import type { Hook, HookAlarm } from './hook.js';
import { HookQueue, type HookOutcome } from './hook-queue.js';

const RANK: Readonly<Record<Priority, number>> = { high: 0, medium: 1, low: 2 };
const CALLS: readonly AlarmEffect['change'][] = ['raised', 'worse', 'unsuppressed', 'unshelved'];

interface Call {
  readonly hook: Hook;
  readonly alarm: string;
  readonly text: string;
  readonly backOff: BackOff;
}

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
  session: Pick<Session, 'onStep' | 'tell' | 'tellService' | 'plan'>,
  hooks: readonly Hook[],
  { design, startedAt, wall = backgroundWall }: HookedSession,
): () => Promise<void> {
  // One each: a hook that hangs keeps no other one waiting.
  const queues = new Map(hooks.map((hook) => [hook, new HookQueue(wall, (outcome) => take(outcome))]));
  /** The newest call of each hook, by its name. */
  const calls = new Map<string, Call>();
  let alarms: readonly AlarmFacts[] = [];
  const listener: StepListener = (_event, state, effects) => {
    alarms = state.alarms;
    for (const effect of effects) {
      if (effect.kind !== 'alarm' || !asksForSomebody(effect)) continue;
      const wanted = hooks.filter(({ priority }) => RANK[effect.alarm.priority] <= RANK[priority]);
      if (wanted.length === 0) continue;
      const text = JSON.stringify(told(effect));
      for (const hook of wanted) if (!isAbout(effect.alarm.cause, hook)) call(hook, effect.alarm.id, text);
    }
  };

  function call(hook: Hook, alarm: string, text: string): void {
    const backOff = calls.get(hook.name)?.backOff ?? new BackOff(wall);
    calls.set(hook.name, { hook, alarm, text, backOff });
    queues.get(hook)?.deliver(hook, alarm, text);
  }

  /** A hook that failed is tried again with what it was called for last, while that still asks for somebody. */
  function take(outcome: HookOutcome): void {
    session.tell({ kind: 'hook', atMs: 0, ...outcome });
    session.tellService('hook', outcome.failed, outcome.hook);
    const backOff = calls.get(outcome.hook)?.backOff;
    if (outcome.failed === null) {
      backOff?.stop();
      backOff?.reset();
    } else backOff?.later(() => callAgain(outcome.hook));
  }

  function callAgain(name: string): void {
    const last = calls.get(name);
    const alarm = alarms.find(({ id }) => id === last?.alarm);
    if (last === undefined || alarm === undefined || !alarm.active || isAside(alarm)) return;
    queues.get(last.hook)?.deliver(last.hook, last.alarm, last.text);
  }

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

  if (hooks.length > 0) session.onStep(listener, 'hook');
  return async () => {
    for (const { backOff } of calls.values()) backOff.stop();
    await Promise.all([...queues.values()].map((queue) => queue.stop()));
  };
}

/** What another alarm explains, or a person has put aside or acknowledged, calls nobody. */
function asksForSomebody({ change, alarm }: AlarmEffect): boolean {
  return CALLS.includes(change) && !isAside(alarm);
}

function isAside({ suppressedBy, shelvedUntilMs, acknowledged }: AlarmFacts): boolean {
  return suppressedBy.length > 0 || shelvedUntilMs !== null || acknowledged;
}

/** A hook that has failed is no way to tell that it has. */
function isAbout(cause: AlarmCause, { name }: Hook): boolean {
  return cause.kind === 'service-down' && cause.service === 'hook' && cause.name === name;
}
