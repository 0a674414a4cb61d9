import { ok } from 'node:assert/strict';
import { mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { Stage, type DriverContract } from '../drivers/stage.js';

const FOLDER = fileURLToPath(new URL('corpus', import.meta.url));
const MOST_EVENTS_A_CHUNK = 40;
/** What was damaged before has had its time to be noticed. */
const SETTLE_MS = 10_000;
const LONGEST_WITHOUT_A_QUESTION_MS = 20_000;

/** Bytes from the far end, so long after those before, or as the answer to the driver's next question. */
export interface SaidChunk {
  readonly afterMs: number | 'asked';
  readonly bytes: Uint8Array;
}

/** One file of the corpus: what is said to a driver, and what odd state that must lead to. */
export interface CorpusFile {
  readonly name: string;
  /** Words such as `fault line-too-long`, `mark overload` or `reading`; each must come about. */
  readonly reaches: readonly string[];
  readonly chunks: readonly SaidChunk[];
}

/** The corpus of a driver, by name. */
export function corpusOf(driver: string): readonly CorpusFile[] {
  return readdirSync(join(FOLDER, driver))
    .sort()
    .map((name) => corpusFile(name, readFileSync(join(FOLDER, driver, name), 'utf8')));
}

/**
 * Reads `# reaches: fault line-too-long, reading` and lines such as `50 "T1: 41.3 C\r\n"`: milliseconds after the
 * line above, or `?` for once the driver has asked, and bytes as a JSON text of which each character is one byte. Other lines that begin with # are remarks.
 */
export function corpusFile(name: string, text: string): CorpusFile {
  const lines = text.split('\n').filter((line) => line !== '');
  const reaches = lines.flatMap((line) => /^# reaches: (.+)$/.exec(line)?.[1]?.split(', ') ?? []);
  const chunks = lines
    .filter((line) => !line.startsWith('#'))
    .map((line) => {
      const blank = line.indexOf(' ');
      const said = JSON.parse(line.slice(blank + 1)) as string;
      const when = line.slice(0, blank);
      const afterMs: SaidChunk['afterMs'] = when === '?' ? 'asked' : Number(when);
      return { afterMs, bytes: new Uint8Array(Buffer.from(said, 'latin1')) };
    });
  return { name, reaches, chunks };
}

/** The text of a corpus file. */
export function corpusText(remark: string, chunks: readonly SaidChunk[]): string {
  const lines = chunks.map(({ afterMs, bytes }) => `${afterMs === 'asked' ? '?' : afterMs} ${asJson(bytes)}`);
  return [`# ${remark}`, ...lines, ''].join('\n');
}

/** Keeps what a driver failed on, for the tests from now on. Gives the file's path. */
export function addToCorpus(driver: string, name: string, text: string): string {
  mkdirSync(join(FOLDER, driver), { recursive: true });
  const file = join(FOLDER, driver, name);
  writeFileSync(file, text);
  return file;
}

/** Says the chunks to a driver that reads well and whose device then falls silent; it has to read well again after. */
export function sayCorpus(contract: DriverContract, { reaches, chunks }: CorpusFile): void {
  let asked = 0;
  const stage = new Stage({
    ...contract,
    device: (around) =>
      contract.device({
        ...around,
        onHeard: (listener) => around.onHeard((text) => void ((asked += 1), listener(text))),
      }),
  });
  stage.expectGoodReadingsSoon();
  stage.device.sleep();
  stage.forget();
  for (const { afterMs, bytes } of chunks) {
    if (afterMs === 'asked') untilAsked();
    else stage.clock.advance(afterMs);
    stage.far.send(bytes);
  }
  stage.clock.advance(SETTLE_MS);
  const found = new Set(
    stage.events.map((event) => {
      if (event.kind === 'fault') return `fault ${event.code}`;
      if (event.kind === 'state') return `state ${event.state}`;
      if (event.kind !== 'reading') return event.kind;
      return event.value === null ? `mark ${event.mark ?? 'none'}` : 'reading';
    }),
  );
  for (const state of reaches) ok(found.has(state), `not reached: ${state}; found ${[...found].join(', ')}`);
  ok(stage.events.length < MOST_EVENTS_A_CHUNK * (chunks.length + 5), `${stage.events.length} events`);
  for (const event of stage.events) {
    ok(
      event.kind !== 'reading' || event.value === null || Number.isFinite(event.value),
      'a number that is none',
    );
  }
  stage.forget();
  stage.promised.length = 0;
  stage.expectGoodReadingsSoon();

  function untilAsked(): void {
    const before = asked;
    for (let waited = 0; asked === before; waited += 5) {
      ok(waited < LONGEST_WITHOUT_A_QUESTION_MS, 'the driver asked nothing more');
      stage.clock.advance(5);
    }
  }
}

function asJson(bytes: Uint8Array): string {
  return JSON.stringify(Buffer.from(bytes).toString('latin1')).replace(/[\u007f-\u00ff]/g, (sign) => {
    return `\\u${sign.charCodeAt(0).toString(16).padStart(4, '0')}`;
  });
}
