import type { TimeAction } from './chart/timeline.js';
import { VIEWS } from './views/registry.js';
import type { ViewEntry } from './views/view.js';

/** What a single key means on the page. */
export type KeyCommand =
  | { readonly kind: 'acknowledge' | 'sound' | 'test-tone' | 'keys' | 'settings' | 'speak' }
  | { readonly kind: 'follow'; readonly wish: 'forward' | 'back' | 'stop' }
  | { readonly kind: 'view'; readonly view: ViewEntry }
  | { readonly kind: 'window'; readonly minutes: number }
  | { readonly kind: 'time'; readonly action: TimeAction };

const COMMANDS: Readonly<Record<string, KeyCommand>> = {
  a: { kind: 'acknowledge' },
  s: { kind: 'sound' },
  t: { kind: 'test-tone' },
  p: { kind: 'settings' },
  v: { kind: 'speak' },
  '?': { kind: 'keys' },
  '1': { kind: 'window', minutes: 1 },
  '5': { kind: 'window', minutes: 5 },
  '9': { kind: 'window', minutes: 15 },
  '6': { kind: 'window', minutes: 60 },
  '0': { kind: 'window', minutes: Infinity },
  ',': { kind: 'time', action: 'earlier' },
  '.': { kind: 'time', action: 'later' },
  '+': { kind: 'time', action: 'closer' },
  '-': { kind: 'time', action: 'wider' },
  ...Object.fromEntries(VIEWS.map((view) => [view.key, { kind: 'view', view } as const])),
};

/** While a probe is followed: what a hand, a foot switch or a presenter's button sends. */
const FOLLOWING: Readonly<Record<string, KeyCommand>> = {
  Enter: { kind: 'follow', wish: 'forward' },
  ' ': { kind: 'follow', wish: 'forward' },
  PageDown: { kind: 'follow', wish: 'forward' },
  ArrowRight: { kind: 'follow', wish: 'forward' },
  ArrowDown: { kind: 'follow', wish: 'forward' },
  PageUp: { kind: 'follow', wish: 'back' },
  ArrowLeft: { kind: 'follow', wish: 'back' },
  ArrowUp: { kind: 'follow', wish: 'back' },
  Escape: { kind: 'follow', wish: 'stop' },
};
/** These press what has the focus. */
const PRESSES: readonly string[] = ['Enter', ' '];

/**
 * The command of a key press, unless it belongs to the browser, to a field or to an open dialog.
 * @param following whether a probe is followed
 */
export function keyCommand(event: KeyboardEvent, following: boolean): KeyCommand | null {
  const key = singleKey(event);
  const follows = following && key !== '' ? FOLLOWING[event.key] : undefined;
  if (follows !== undefined) {
    return PRESSES.includes(event.key) && isOn(event, 'button, a, summary') ? null : follows;
  }
  return COMMANDS[key] ?? null;
}

/** The single key that was pressed for the page; empty when it belongs to the browser, a field or an open dialog. */
export function singleKey(event: KeyboardEvent): string {
  if (event.ctrlKey || event.metaKey || event.altKey || event.repeat || event.defaultPrevented) return '';
  return isOn(event, 'input, select, textarea, dialog') ? '' : event.key.toLowerCase();
}

function isOn(event: KeyboardEvent, selector: string): boolean {
  return event.composedPath().some((target) => target instanceof Element && target.matches(selector));
}
