import { withoutObeyed } from './design/obeyed-signs.js';
import type { PageMessage } from './serve/messages.js';
import { stepWanted } from './step-event.js';
import { orderProblem } from './watch/cut-off-order.js';
import type { WatchEvent } from './watch/events.js';
import type { WatchState } from './watch/watch.js';

/** What a person may do to a running session; the session stamps the time. */
export type OperatorAction = Exclude<PageMessage, { readonly kind: 'demo-fault' | 'snapshot' }>;

/** What an action becomes: its event (null: none), and why it can't be done, for a person (null: it can). */
export interface OperatorEvent {
  readonly event: WatchEvent | null;
  readonly why: string | null;
}

/** What a person wants, as it reaches the core. A typed reading goes by its instrument instead. */
export function operatorEvent(
  wanted: Exclude<OperatorAction, { readonly kind: 'typed' }>,
  state: WatchState,
  atMs: number,
): OperatorEvent {
  const action = plainWords(wanted);
  switch (action.kind) {
    case 'cut-off': {
      const { output, order, inSight } = action;
      // Taken even when it is refused: the recording holds what was asked for, and why it wasn't done.
      const event = { kind: 'cut-off', atMs, output, order, inSight } as const;
      return { event, why: orderProblem(state, event) };
    }
    case 'shelve': {
      const { alarm, minutes } = action;
      const untilMs = minutes === null ? null : Math.round(atMs + minutes * 60_000);
      return { event: { kind: 'shelve', atMs, alarm, untilMs }, why: null };
    }
    case 'step': {
      const { event, why } = stepWanted(action, state);
      return { event: event && { ...event, atMs }, why };
    }
    case 'acknowledge':
    case 'load':
    case 'note':
    case 'probe':
      return { event: { ...action, atMs }, why: null };
  }
}

/** Whoever has a link to the page may have written anything into a note or a reason, and terminals and reports show it. */
function plainWords<Action extends object>(action: Action): Action {
  const plain = Object.entries(action).map(([key, value]: [string, unknown]) => [
    key,
    typeof value === 'string' ? withoutObeyed(value) : value,
  ]);
  return Object.fromEntries(plain) as Action;
}
