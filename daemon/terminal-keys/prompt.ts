import type { OperatorAction } from '../session.js';
import type { WatchState } from '../watch/state.js';

/** What the keys look at, and what they can do. */
export interface Hands {
  readonly state: WatchState;
  readonly act: (action: OperatorAction) => void;
  /** Writes one line. */
  readonly say: (line: string) => void;
}

/** Something that is asked of the person at the terminal. */
export interface Prompt {
  /** As it stands now: what it is about, then the keys that answer. */
  lines(): readonly string[];
  /** Words are wanted, ended with Enter; a single key otherwise. */
  readonly wantsWords: boolean;
  /**
   * Takes a key (Enter is `\n`), or the words.
   * @returns what is asked next; null when nothing is
   */
  answer(text: string): Prompt | null;
}

export const ENTER = '\n';
