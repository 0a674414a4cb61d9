import { ReadlineParser } from '@serialport/parser-readline';
import type { FaultCode } from '../driver.js';
import { LineGuard } from './guard.js';

interface LineReaderOptions<Line> {
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
export type ByteLineReaderOptions = LineReaderOptions<Uint8Array>;

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
  return byteLineReader({ ...rest, onLine: (line, atMs) => onLine(DECODER.decode(line), atMs) });
}

/** Lines as UTF-8 bytes, for floods: making a string of each takes as long as reading it. */
export function byteLineReader({ onLine, onFault, skipFirst = false }: ByteLineReaderOptions): LineReader {
  // Without an encoding the parser hands its bytes on; its type doesn't know that it may be left out.
  const parser = new ReadlineParser({ encoding: undefined } as object);
  let lineAtMs = 0;
  let ended = false;
  parser.on('data', (line: Uint8Array) => {
    if (!ended) onLine(line, lineAtMs);
  });
  parser.read(0); // from now on the stream hands lines over within `write` instead of in a later turn
  const guard = new LineGuard(
    {
      onLines: (lines) => void (ended || parser.write(lines)),
      onDropped: (code, detail) => void (ended || onFault(code, detail)),
    },
    { skipFirst },
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
    end() {
      ended = true;
    },
  };
}

const DECODER = new TextDecoder();
