import { dirname, join } from 'node:path';
import { errorCode } from './disk.js';
import { isFileIn } from './file-in-folder.js';
import { LineCutter } from './lines.js';
import { BrokenGzip, recordingBytes } from './open-bytes.js';
import {
  RecordingParser,
  singleItems,
  type ParserMemory,
  type PieceItem,
  type RecordingItem,
} from './parse.js';
import { BeforeLastLine } from './seal.js';

/** As many items as one piece of the file holds. */
export interface RecordingPiece {
  readonly items: readonly PieceItem[];
  /** Which file of the session they stand in. */
  readonly path: string;
  /** Where the first of their lines begins, and its number. */
  readonly byte: number;
  readonly line: number;
  /** What a parser needs to begin there; null at a file's beginning. */
  readonly memory: ParserMemory | null;
}

/** A place from which a file can be read without what stands before it. */
export type RecordingPlace = Pick<RecordingPiece, 'path' | 'byte' | 'line' | 'memory'>;

/**
 * Reads a recording from front to back in constant memory: the header first, then events, effects and problems in
 * order, then the closing line if there is one. Goes on with the next file of a session that has several.
 * @throws {NotARecording} when there is no such file or its first line can't be used. Later damage is a `problem` item.
 */
export async function* readRecording(path: string): AsyncGenerator<RecordingItem, void, void> {
  for await (const { items } of readPieces(path)) yield* singleItems(items);
}

/** The same in pieces: for whoever reads fast. The second and later files of a session give no header. */
export async function* readPieces(path: string): AsyncGenerator<RecordingPiece, void, void> {
  yield* readFiles({ path, byte: 0, line: 1, memory: null }, 'first');
}

/** The same from a place in the middle. Whether the files are intact isn't looked at. */
export async function* readPiecesFrom(place: RecordingPlace): AsyncGenerator<RecordingPiece, void, void> {
  yield* readFiles(place, 'middle');
}

async function* readFiles(
  place: RecordingPlace,
  from: 'first' | 'middle',
): AsyncGenerator<RecordingPiece, void, void> {
  let here: RecordingPlace | null = place;
  let isFirst = from === 'first';
  while (here !== null) {
    const { path, line }: RecordingPlace = here;
    const next: string | null = yield* filePieces(here, isFirst);
    isFirst = false;
    if (next === null) return;
    const found: string | null = await fileNamed(dirname(path), next);
    if (found === null) yield missingPart(path, line, `the session goes on in ${next}, which is not there`);
    here = found === null ? null : { path: found, byte: 0, line: 1, memory: null };
  }
}

/** The file, or the same one compressed; null when neither is there. A link that leads elsewhere is no part of it. */
async function fileNamed(folder: string, name: string): Promise<string | null> {
  for (const path of [join(folder, name), join(folder, `${name}.gz`)]) {
    if (await isFileIn(folder, path)) return path;
  }
  return null;
}

/** A later file by itself lacks what was measured before it. */
function* startProblems({ items, path }: RecordingPiece): Generator<RecordingPiece, void, void> {
  const part = items.flatMap((item) => (item.kind === 'header' ? [item.header.part] : []))[0];
  if (part === undefined) return;
  const why = `this is part ${part.number} of a session, without what came before; name its first file for the whole of it`;
  yield missingPart(path, 1, why);
}

function missingPart(path: string, line: number, why: string): RecordingPiece {
  const item = { kind: 'problem', line, problem: 'part-missing', why: `${path}: ${why}.` } as const;
  return { items: [item], path, byte: 0, line, memory: null };
}

/** @returns the name of the file in which the session goes on */
async function* filePieces(
  place: RecordingPlace,
  isFirst: boolean,
): AsyncGenerator<RecordingPiece, string | null, void> {
  const pieces = parsePieces(place, recordingBytes(place.path, place.byte));
  for (;;) {
    const result = await pieces.next();
    if (result.done === true) return result.value;
    const piece = result.value;
    if (piece.line > 1) yield piece;
    else if (isFirst) {
      yield piece;
      yield* startProblems(piece);
    } else yield { ...piece, items: piece.items.filter(({ kind }) => kind !== 'header') };
  }
}

/** The same from bytes that come from anywhere. @returns the name of the file in which the session goes on */
export async function* parsePieces(
  place: RecordingPlace,
  chunks: AsyncIterable<Buffer>,
): AsyncGenerator<RecordingPiece, string | null, void> {
  const { path } = place;
  const cutter = new LineCutter({ line: place.line });
  const parser = new RecordingParser(path, place.memory ?? undefined);
  const seal = new BeforeLastLine();
  let byte = place.byte;
  let piece: Omit<RecordingPiece, 'items'> = { path, byte, line: place.line, memory: place.memory };
  let broken: BrokenGzip | null = null;
  try {
    for await (const chunk of chunks) {
      seal.push(chunk);
      const items: PieceItem[] = [];
      for (const line of cutter.push(chunk)) parser.push(line, items);
      const newline = chunk.lastIndexOf('\n');
      yield { ...piece, items };
      if (newline !== -1)
        piece = { path, byte: byte + newline + 1, line: cutter.line, memory: parser.memory() };
      byte += chunk.length;
    }
  } catch (error) {
    if (!(error instanceof BrokenGzip)) throw error;
    broken = error;
  }
  const rest = cutter.end();
  const items: PieceItem[] = [];
  if (rest !== null) parser.push(rest, items);
  const last = [
    brokenItem(path, cutter.line, broken),
    place.memory === null ? parser.end(seal.digest()) : null,
  ];
  yield { ...piece, items: [...items, ...last.filter((item) => item !== null)] };
  return parser.next;
}

function brokenItem(path: string, line: number, broken: BrokenGzip | null): RecordingItem | null {
  if (broken === null) return null;
  const cut = errorCode(broken.cause) === 'Z_BUF_ERROR';
  const why = cut
    ? 'the compressed file is cut off here'
    : 'the compressed data is damaged here or before; trust no number in it';
  return { kind: 'problem', line, problem: cut ? 'torn' : 'altered', why: `${path}:${line}: ${why}.` };
}
