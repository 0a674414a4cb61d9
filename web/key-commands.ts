import { VIEWS } from './views/registry.js';
import type { ViewEntry } from './views/view.js';

/** What a single key means on the page. */
export type KeyCommand =
  | { readonly kind: 'acknowledge' | 'sound' | 'test-tone' | 'keys' | 'settings' }
  | { readonly kind: 'view'; readonly view: ViewEntry }
  | { readonly kind: 'window'; readonly minutes: 1 | 5 | 15 };

const COMMANDS: Readonly<Record<string, KeyCommand>> = {
  a: { kind: 'acknowledge' },
  s: { kind: 'sound' },
  t: { kind: 'test-tone' },
  p: { kind: 'settings' },
  '?': { kind: 'keys' },
  '1': { kind: 'window', minutes: 1 },
  '5': { kind: 'window', minutes: 5 },
  '9': { kind: 'window', minutes: 15 },
  ...Object.fromEntries(VIEWS.map((view) => [view.key, { kind: 'view', view } as const])),
};

/** The command of a key press, unless it belongs to the browser, to a field or to an open dialog. */
export function keyCommand(event: KeyboardEvent): KeyCommand | null {
  return COMMANDS[singleKey(event)] ?? null;
}

/** The single key that was pressed for the page; empty when it belongs to the browser, a field or an open dialog. */
export function singleKey(event: KeyboardEvent): string {
  if (event.ctrlKey || event.metaKey || event.altKey || event.repeat) return '';
  const busy = event
    .composedPath()
    .some((target) => target instanceof Element && target.matches('input, select, textarea, dialog'));
  return busy ? '' : event.key.toLowerCase();
}
