import { isAside, worstFirst } from './alarm-order.js';
import type { PageState } from './session-state.js';

/**
 * What the browser's tab says: an alarm or a lost bench before the view and the name of the supply.
 * @param view the view's title; empty for the first one
 */
export function pageTitle(state: PageState, view = ''): string {
  const name = [view, state.session?.design, 'Railminder'].filter(Boolean).join(' – ');
  if (state.link.kind !== 'live') return `Not live – ${name}`;
  const open = worstFirst(state.alarms).filter((alarm) => !isAside(alarm));
  const worst = open[0];
  if (!worst) return name;
  return `${open.length === 1 ? 'Alarm' : `${open.length} alarms`}: ${worst.spoken} – ${name}`;
}
