import type { PageMessage } from '../../daemon/serve/messages.js';
import type { TimeAction } from '../chart/timeline.js';
import type { Tracks } from '../chart/tracks.js';
import type { HandsFree } from '../hands-free.js';
import type { Preferences } from '../preferences.js';
import type { PageState } from '../session-state.js';

/** What every view is given by the page, anew whenever something of it changed. */
export interface Shared {
  readonly state: PageState;
  readonly live: boolean;
  /** False: the page came in with the key that only looks, and shows nothing that acts on the session. */
  readonly mayAct: boolean;
  readonly tracks: Tracks;
  readonly preferences: Preferences;
  /** Whether single keys act. */
  readonly keysOn: boolean;
  readonly handsFree: HandsFree;
  /** Asks the daemon; false when the page isn't live, and then nothing is done later by surprise. */
  readonly send: (message: PageMessage) => boolean;
}

/** What the page may ask the view that stands on it. */
export type ViewCommand =
  | {
      /** The last so many minutes; Infinity: the whole session. */
      readonly kind: 'window';
      readonly minutes: number;
    }
  | { readonly kind: 'time'; readonly action: TimeAction }
  | { readonly kind: 'reveal-demo' };

/** The element of a view. It is kept while another view is shown, so that nothing typed in it is lost. */
export interface ViewElement extends HTMLElement {
  shared: Shared;
  /** Does what a key or a link of the page asks of this view. */
  obey?(command: ViewCommand): void;
}

/** One view of the page, by its address `#/name`. */
export interface ViewEntry {
  readonly name: string;
  readonly title: string;
  /** The single key that goes there. */
  readonly key: string;
  readonly tag: string;
  /** The single keys that act on this view alone, with what each does; nobody who only looks has them. */
  readonly ownKeys?: readonly (readonly [string, string])[];
}
