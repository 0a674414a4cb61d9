import { lineReader } from '../drivers/lines/line-reader.js';

const JUNK = '(no text)';
const LINE_FEED = 10;
const BLANK = 32;

/** Hands on each key of a terminal, Ctrl-C too, until the returned function is called. */
export function readKeys(input: NodeJS.ReadStream, onChunk: (chunk: string) => void): () => void {
  const onData = (chunk: Buffer): void => onChunk(chunk.toString('utf8'));
  input.setRawMode(true);
  input.on('data', onData);
  input.resume();
  return () => {
    input.off('data', onData);
    input.setRawMode(false);
    input.pause();
    letGo(input);
  };
}

/** The keys that a terminal sent at once. An arrow or function key is an escape sequence, and is left out. */
export function keysIn(chunk: string): readonly string[] {
  return [...chunk.replace(/\u001b[[O][0-9;]*[A-Za-z~]/g, '')];
}

/** Hands on whole lines until the returned function is called; what is no text counts as a line of junk. */
export function readTypedLines(input: NodeJS.ReadStream, onLine: (line: string) => void): () => void {
  const reader = lineReader({ onLine: (line) => onLine(line), onFault: () => onLine(JUNK) });
  const spaced = emptyLinesSpaced();
  const onData = (chunk: Buffer): void => reader.push(spaced(chunk), 0);
  input.on('data', onData);
  return () => {
    reader.end();
    input.off('data', onData);
    input.pause();
    letGo(input);
  };
}

/** Standard input no longer keeps the program from ending. */
export function letGo(input: NodeJS.ReadStream): void {
  // What is no terminal and no pipe, /dev/null for example, holds nothing up and has no such method.
  if ('unref' in input) input.unref();
}

/** Puts a blank into each empty line: a line reader tells nothing of those, and a person's Enter says something. */
function emptyLinesSpaced(): (chunk: Uint8Array) => Uint8Array {
  let atStart = true;
  return (chunk) =>
    Uint8Array.from(
      [...chunk].flatMap((byte) => {
        const isEmpty = byte === LINE_FEED && atStart;
        atStart = byte === LINE_FEED;
        return isEmpty ? [BLANK, byte] : [byte];
      }),
    );
}
