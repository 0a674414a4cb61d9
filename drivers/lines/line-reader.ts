import type { FaultCode } from '../driver.js';
import { LineGuard, type GuardOptions } from './guard.js';

const LINE_FEED = 10;
/** Keeps a byte order mark: what a line is made of is the driver's affair. */
const DECODER = new TextDecoder('utf-8', { ignoreBOM: true });

interface LineReaderOptions<Line> extends Partial<GuardOptions> {
  /**
   * A whole line without its end; there may be a blank behind it. `atMs` is when the chunk with its last byte came.
   * Must not call `push`.
   */
  readonly onLine: (line: Line, atMs: number) => void;
  /** A line was dropped. */
  readonly onFault: (code: Extract<FaultCode, 'line-too-long' | 'not-text'>, detail: string) => void;
  /**
   * For devices that speak by themselves: everything before the first line end is dropped, because a link opens in
   * the middle of a line and `12.06` without its first digit is a good number too. A device that only answers
   * doesn't need it. Default false.
   */
  readonly skipFirst?: boolean;
}

export type TextLineReaderOptions = LineReaderOptions<string>;
export interface ByteLineReaderOptions extends LineReaderOptions<Uint8Array> {
  /**
   * Is offered each line before `onLine`, where it lies among others: from `start` to a line feed. Gives the line
   * feed's place when it took the line, -1 when not. For floods: a view of each line takes as long as reading it.
   */
  readonly takeLine?: (lines: Uint8Array, start: number, atMs: number) => number;
}

/** Turns one connection's bytes into lines. Make a new one for every connection. */
export interface LineReader {
  /** Takes the next bytes. Lines are told before it returns. */
  push(chunk: Uint8Array, atMs: number): void;
  /** Whether a line has begun that hasn't ended. */
  readonly midLine: boolean;
  /** Ends it: a line under way is forgotten and nothing more is told. */
  end(): void;
}

/** Lines as text. */
export function lineReader({ onLine, ...rest }: TextLineReaderOptions): LineReader {
  const reader = guarded(rest, (lines) => {
    const text = DECODER.decode(lines);
    let start = 0;
    for (let end = text.indexOf('\n'); end >= 0 && !reader.ended; end = text.indexOf('\n', start)) {
      if (end > start) onLine(text.slice(start, end), reader.lineAtMs);
      start = end + 1;
    }
  });
  return reader;
}

/** Lines as UTF-8 bytes, for floods: making a string of each takes as long as reading it. */
export function byteLineReader({ onLine, takeLine, ...rest }: ByteLineReaderOptions): LineReader {
  const reader = guarded(rest, (lines) => {
    const length = lines.length;
    for (let start = 0; start < length && !reader.ended;) {
      let end = takeLine === undefined ? -1 : takeLine(lines, start, reader.lineAtMs);
      if (end < 0) {
        end = lines.indexOf(LINE_FEED, start);
        if (end > start) onLine(lines.subarray(start, end), reader.lineAtMs);
      }
      start = end + 1;
    }
  });
  return reader;
}

interface GuardedReader extends LineReader {
  readonly ended: boolean;
  /** When the chunk with the line's last byte came. */
  readonly lineAtMs: number;
}

/** Puts the guard before what takes whole lines, each with its line feed. */
function guarded(
  { onFault, skipFirst = false, latin1Signs = false }: Omit<TextLineReaderOptions, 'onLine'>,
  onLines: (lines: Uint8Array) => void,
): GuardedReader {
  let lineAtMs = 0;
  let ended = false;
  const guard = new LineGuard(
    {
      onLines: (lines) => void (ended || onLines(lines)),
      onDropped: (code, detail) => void (ended || onFault(code, detail)),
    },
    { skipFirst, latin1Signs },
  );
  return {
    push(chunk, atMs) {
      if (ended) return;
      lineAtMs = atMs;
      guard.push(chunk);
    },
    get midLine() {
      return guard.midLine;
    },
    get ended() {
      return ended;
    },
    get lineAtMs() {
      return lineAtMs;
    },
    end() {
      ended = true;
    },
  };
}
