import { draftInstrument } from '../draft-instrument.js';
import { judgementWords } from '../judgement-words.js';
import type { HeardView, InstrumentToAdd, ListeningView } from '../serve/instrument-messages.js';
import type { ChannelSpec } from '../../drivers/driver.js';
import { RawLines } from '../../drivers/links/raw-lines.js';
import { judge } from '../../drivers/listen/judge.js';
import { listen, type Listened, type ListenOptions } from '../../drivers/listen/listen.js';
import type { Place } from '../../drivers/listen/place.js';
import { readLines } from '../../drivers/listen/read-lines.js';
import { readingViews } from './reading-views.js';

export type Listen = (place: Place, options: ListenOptions) => Promise<Listened>;

interface LineReading {
  readonly options: Readonly<Record<string, unknown>>;
  readonly channels: readonly ChannelSpec[];
}

/** One port that is listened at, from the press on the page until everything is known or it is let go. */
export class Listening {
  readonly #port: string;
  readonly #raw = new RawLines();
  readonly #ending = new AbortController();
  readonly #done: Promise<void>;
  #tries = 'opens the port';
  #result: Listened | null = null;
  #why: string | null = null;
  #proposal: InstrumentToAdd | null = null;

  constructor(port: string, place: Place, seconds: number, open: Listen = listen) {
    this.#port = port;
    const options: ListenOptions = {
      seconds,
      signal: this.#ending.signal,
      onBytes: (chunk) => {
        this.#tries = '';
        this.#raw.push(chunk, 0);
      },
      onTry: (words) => void (this.#tries = words),
    };
    this.#done = open(place, options).then(
      (found) => this.#end(place, found),
      (error: unknown) => void (this.#why = error instanceof Error ? error.message : String(error)),
    );
  }

  view(): ListeningView {
    return {
      port: this.#port,
      isOver: this.#result !== null || this.#why !== null,
      tries: this.#result === null && this.#why === null ? this.#tries : '',
      baud: this.#result?.baud ?? null,
      lines: this.#lines(),
      found: this.#result === null ? '' : judgementWords(this.#result.judgement),
      proposal: this.#proposal,
      why: this.#why,
    };
  }

  /** Ends it early; resolves when the port is free. */
  async hush(): Promise<void> {
    this.#ending.abort();
    await this.#done;
  }

  #end(place: Place, found: Listened): void {
    this.#result = found;
    const draft = draftInstrument(place, found);
    if (draft === null) return;
    const { link = null, ...rest } = draft;
    this.#proposal = { ...rest, link: link as InstrumentToAdd['link'] };
  }

  #lines(): readonly HeardView[] {
    const texts = this.#raw.lines.map(({ text }) => text);
    const reading = this.#reading(texts);
    if (reading === null) return texts.map((text) => ({ text, readings: [] }));
    const readings = readLines(reading.options, reading.channels, texts);
    return texts.map((text, i) => ({ text, readings: readingViews(readings[i] ?? []) }));
  }

  /** How the lines so far would be read. */
  #reading(texts: readonly string[]): LineReading | null {
    const bytes = Buffer.from(texts.map((text) => `${text}\n`).join(''));
    const judgement = this.#result?.judgement ?? judge(bytes);
    if (judgement.kind !== 'lines') return null;
    const { options, numbers } = judgement.proposal;
    return { options, channels: numbers.map(({ name, measures }) => ({ name, measures })) };
  }
}
