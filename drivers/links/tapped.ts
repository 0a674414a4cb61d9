import type { Link } from '../link.js';

/** Sees what comes over a link before its driver does. Must not throw and must not keep the chunk. */
export interface Tap {
  onBytes(chunk: Uint8Array): void;
  /** It opened or was opened again: what came before is of another connection. */
  onOpened(): void;
}

/** A chunk that is longer goes on whole: it is a capture, not lines. */
const MOST_CUT_BYTES = 1024;
const LINE_FEED = 0x0a;

/** The same link, with a listener at its edge. Chunks of lines go on line by line, so that what follows from each is known. */
export function tappedLink(link: Link, tap: Tap): Link {
  return {
    name: link.name,
    start: (listener) =>
      link.start({
        onState(state) {
          if (state.kind === 'open' || state.kind === 'back') tap.onOpened();
          listener.onState(state);
        },
        onBytes(chunk) {
          for (const piece of pieces(chunk)) {
            tap.onBytes(piece);
            listener.onBytes(piece);
          }
        },
      }),
    write: (bytes) => link.write(bytes),
    stop: () => link.stop(),
  };
}

function pieces(chunk: Uint8Array): readonly Uint8Array[] {
  if (chunk.length > MOST_CUT_BYTES) return [chunk];
  const found: Uint8Array[] = [];
  let from = 0;
  for (let end = chunk.indexOf(LINE_FEED); end >= 0; end = chunk.indexOf(LINE_FEED, from)) {
    found.push(chunk.subarray(from, end + 1));
    from = end + 1;
  }
  if (from < chunk.length || found.length === 0) found.push(chunk.subarray(from));
  return found;
}
