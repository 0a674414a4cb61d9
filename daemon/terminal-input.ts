import { isInForeground } from './foreground.js';
import { lineReader } from '../drivers/lines/line-reader.js';

const JUNK = '(no text)';
const LINE_FEED = 10;
const BLANK = 32;

/** Hands on each key of a terminal, Ctrl-C too, until the returned function is called. */
export function readKeys(input: NodeJS.ReadStream, onChunk: (chunk: string) => void): () => void {
  const onData = (chunk: Buffer): void => onChunk(chunk.toString('utf8'));
  const stopReading = readInForeground(input, onData, () => input.setRawMode(true));
  return () => {
    if (isInForeground()) input.setRawMode(false);
    stopReading();
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
  const stopReading = readInForeground(input, (chunk) => reader.push(spaced(chunk), 0));
  return () => {
    reader.end();
    stopReading();
  };
}

/** The system stops, whole, a program in the background that reads its terminal or sets it. */
function readInForeground(
  input: NodeJS.ReadStream,
  onData: (chunk: Buffer) => void,
  begin: () => void = () => undefined,
): () => void {
  // After `fg` and `bg` the system says this one.
  const onContinued = (): void => {
    if (input.isTTY && !isInForeground()) return void input.pause();
    begin();
    input.resume();
  };
  onContinued();
  input.on('data', onData);
  process.on('SIGCONT', onContinued);
  return () => {
    process.off('SIGCONT', onContinued);
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
