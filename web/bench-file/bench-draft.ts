import type { BenchEdit, BenchPreview, OpenedBench } from '../../daemon/serve/instrument-messages.js';
import { DeskTrouble } from '../design/desk-link.js';
import type { InstrumentLink } from './instrument-link.js';

/** A bench file that is being written: its text, what it says, and what is wrong with it. */
export class BenchDraft {
  opened: OpenedBench | null = null;
  preview: BenchPreview | null = null;
  /** Why the daemon couldn't answer; empty when it did. */
  trouble = '';
  file: string | null = null;
  #version: string | null = null;
  #savedText = '';
  readonly #link: InstrumentLink;
  readonly #onChange: () => void;
  /** One after the other: each edit is of the text that the one before left. */
  #last: Promise<void> = Promise.resolve();

  constructor(link: InstrumentLink, onChange: () => void) {
    this.#link = link;
    this.#onChange = onChange;
  }

  get text(): string {
    return this.preview?.text ?? '';
  }

  get isUnsaved(): boolean {
    return this.preview !== null && this.text !== this.#savedText;
  }

  /** Takes the bench of the running session. */
  open(): Promise<void> {
    return this.#next(async () => {
      const opened = await this.#link.open();
      const preview = await this.#link.preview({ text: opened.text, edits: [] });
      this.opened = opened;
      this.preview = preview;
      this.file = opened.file;
      this.#version = opened.version;
      this.#savedText = opened.text;
    });
  }

  edit(...edits: readonly BenchEdit[]): Promise<void> {
    return this.#next(async () => {
      this.preview = await this.#link.preview({ text: this.text, edits });
    });
  }

  /** Why it wasn't saved; null when it was. */
  async save(file: string): Promise<string | null> {
    let why: string | null = null;
    await this.#next(async () => {
      const { text } = this;
      const version = file === this.file ? this.#version : null;
      const saved = await this.#link.save({ text, file, version });
      ({ why } = saved);
      if (saved.file === null) return;
      this.file = saved.file;
      this.#version = saved.version;
      this.#savedText = text;
    });
    return this.trouble === '' ? why : this.trouble;
  }

  #next(act: () => Promise<void>): Promise<void> {
    this.#last = this.#last.then(async () => {
      try {
        await act();
        this.trouble = '';
      } catch (error) {
        if (!(error instanceof DeskTrouble)) throw error;
        this.trouble = error.message;
      }
      this.#onChange();
    });
    return this.#last;
  }
}
