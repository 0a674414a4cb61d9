import { createHash } from 'node:crypto';
import { basename } from 'node:path';
import { endLine, headerLine, lostLine, sealLine } from './encode.js';
import { RECORDING_VERSION, type RecordingHeader } from './header.js';
import { LineCutter, type FileLine } from './lines.js';
import { BrokenGzip, recordingBytes } from './open-bytes.js';
import { RecordingParser, singleItems, type PieceItem } from './parse.js';
import { BeforeLastLine } from './seal.js';

/** What a repair found. */
export interface RepairReport {
  kept: number;
  dropped: number;
  /** The file was changed after it was closed: which numbers are wrong can't be told. */
  altered: boolean;
}

/**
 * The lines of a repaired copy: every line that can be understood, as it is; a count where lines were dropped; a
 * closing line and a new seal. Its header says that it is a repaired copy, and of what.
 * @param report filled while the lines go by
 * @throws {NotARecording} when the first line can't be used: then there is nothing to repair with.
 */
export async function* repairedLines(path: string, report: RepairReport): AsyncGenerator<string, void, void> {
  // The header comes first and must say what the whole file is like, so the file is read twice.
  for await (const step of goodLines(path)) {
    if (step.kind === 'dropped') report.dropped += 1;
    if (step.kind === 'altered') report.altered = true;
  }
  const hash = createHash('sha256');
  for await (const text of bodyLines(path, report)) {
    hash.update(text);
    yield text;
  }
  yield `${sealLine(hash.digest('hex'))}\n`;
}

async function* bodyLines(path: string, report: RepairReport): AsyncGenerator<string, void, void> {
  const counts = { readings: 0, events: 0, alarms: 0, lost: 0 };
  let waiting = 0;
  let lastAtMs = 0;
  let isLastPart = true;
  for await (const step of goodLines(path)) {
    if (step.kind === 'dropped') waiting += 1;
    if (step.kind !== 'kept') continue;
    if (waiting > 0) yield `${lostLine(waiting)}\n`;
    counts.lost += waiting;
    waiting = 0;
    const { items, text } = step;
    if (items.some(({ kind }) => kind === 'end')) continue;
    report.kept += 1;
    for (const item of singleItems(items)) {
      if (item.kind === 'next') isLastPart = false;
      if (item.kind === 'effect' && item.effect.kind === 'alarm' && item.effect.change === 'raised')
        counts.alarms += 1;
      if (item.kind !== 'event') continue;
      counts.events += 1;
      if (item.event.kind === 'reading') counts.readings += 1;
      lastAtMs = item.event.atMs;
    }
    const [first] = items;
    yield first?.kind === 'header'
      ? `${headerLine(repairedHeader(path, first.header, report))}\n`
      : `${text}\n`;
  }
  if (waiting > 0) yield `${lostLine(waiting)}\n`;
  counts.lost += waiting;
  if (isLastPart) yield `${endLine(lastAtMs, counts)}\n`;
}

function repairedHeader(
  path: string,
  header: RecordingHeader,
  { dropped, altered }: RepairReport,
): RecordingHeader {
  return { ...header, version: RECORDING_VERSION, repairedFrom: { file: basename(path), dropped, altered } };
}

type Step =
  | { readonly kind: 'kept'; readonly text: string; readonly items: readonly PieceItem[] }
  | { readonly kind: 'dropped' }
  | { readonly kind: 'altered' };

async function* goodLines(path: string): AsyncGenerator<Step, void, void> {
  const cutter = new LineCutter();
  const parser = new RecordingParser(path);
  const seal = new BeforeLastLine();
  try {
    for await (const chunk of recordingBytes(path)) {
      seal.push(chunk);
      for (const line of cutter.push(chunk)) yield* steps(parser, line);
    }
  } catch (error) {
    if (!(error instanceof BrokenGzip)) throw error;
    yield { kind: 'altered' };
  }
  const rest = cutter.end();
  if (rest !== null) yield* steps(parser, rest);
  const last = parser.end(seal.digest());
  if (last?.kind === 'problem' && last.problem === 'altered') yield { kind: 'altered' };
}

function* steps(parser: RecordingParser, line: FileLine): Generator<Step, void, void> {
  const items: PieceItem[] = [];
  parser.push(line, items);
  const text = (line.text ?? '').replace(/\r$/, '');
  const isBad = items.some((item) => item.kind === 'problem' && item.problem !== 'lost');
  if (isBad) yield { kind: 'dropped' };
  else if (text !== '' && !text.startsWith('{"kind":"seal"')) yield { kind: 'kept', text, items };
}
