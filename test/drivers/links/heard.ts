import type { Link, LinkListener, LinkState } from '../../../drivers/link.js';

/** A listener that remembers, and lets a test wait for what it expects. */
export interface Heard extends LinkListener {
  readonly states: LinkState[];
  text(): string;
  /** Resolves when `sees` holds; asked again after every state and every chunk. */
  until(sees: (heard: Heard) => boolean): Promise<void>;
  /** Forgets the bytes heard so far. */
  forget(): void;
}

const MOST_KEPT = 4096;

/** Starts `link` and remembers its states and the last few kilobytes of its bytes. */
export function listenTo(link: Link): Heard {
  let tail = '';
  let waiting: { readonly sees: (heard: Heard) => boolean; readonly resolve: () => void }[] = [];
  const heard: Heard = {
    states: [],
    text: () => tail,
    forget: () => void (tail = ''),
    onState(state) {
      heard.states.push(state);
      wake();
    },
    onBytes(chunk) {
      tail = (tail + Buffer.from(chunk).toString('latin1')).slice(-MOST_KEPT);
      wake();
    },
    until: (sees) =>
      new Promise((resolve) => {
        waiting.push({ sees, resolve });
        wake();
      }),
  };
  function wake(): void {
    const ready = waiting.filter(({ sees }) => sees(heard));
    waiting = waiting.filter((entry) => !ready.includes(entry));
    ready.forEach(({ resolve }) => resolve());
  }
  link.start(heard);
  return heard;
}

/** How often a state of this kind has been told. */
export function times(heard: Heard, kind: LinkState['kind']): number {
  return heard.states.filter((state) => state.kind === kind).length;
}
