import { isAside, worstFirst } from './alarm-order.js';
import type { PageState } from './session-state.js';

/** What the browser's tab says: an alarm or a lost bench before the name of the supply. */
export function pageTitle(state: PageState): string {
  const name = state.session ? `${state.session.design} – Railminder` : 'Railminder';
  if (state.link.kind !== 'live') return `Not live – ${name}`;
  const open = worstFirst(state.alarms).filter((alarm) => !isAside(alarm));
  const worst = open[0];
  if (!worst) return name;
  return `${open.length === 1 ? 'Alarm' : `${open.length} alarms`}: ${worst.spoken} – ${name}`;
}
