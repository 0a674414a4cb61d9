import type {
  DesignEdit,
  DesignPrediction,
  DesignPreview,
  LoadState,
  OpenedDesign,
} from '../../daemon/serve/design-messages.js';
import { DeskTrouble, type DeskLink } from './desk-link.js';

/** The full cloud is asked for after so long without a change. */
const IDLE_MS = 500;
const MOST_STEPS = 200;

/** A design that is being written: its text, what comes of it, and the way back. */
export class DesignDraft {
  file: string | null = null;
  folder = '';
  load: LoadState = 'typical';
  preview: DesignPreview | null = null;
  /** The newest one that there was; it outlives a change that leaves the design wrong for a moment. */
  prediction: DesignPrediction | null = null;
  /** Why the daemon couldn't answer; empty when it did. */
  trouble = '';
  #version: string | null = null;
  #savedText = '';
  #text = '';
  readonly #desk: DeskLink;
  readonly #onChange: () => void;
  #edits: DesignEdit[] = [];
  #isAsking = false;
  #wantsFull = false;
  #idle: ReturnType<typeof setTimeout> | undefined;
  /** Texts before each change, with the key that it changed. */
  #before: { readonly text: string; readonly key: string }[] = [];

  constructor(desk: DeskLink, onChange: () => void) {
    this.#desk = desk;
    this.#onChange = onChange;
  }

  get text(): string {
    return this.#text;
  }

  /** Whether something stands here that isn't in a file. */
  get isUnsaved(): boolean {
    return this.#text !== this.#savedText;
  }

  get canUndo(): boolean {
    return this.#before.length > 0;
  }

  /** Whether the prediction is of the design as it stands. */
  get isCurrent(): boolean {
    return this.preview !== null && this.preview.prediction !== null && this.#edits.length === 0;
  }

  /** Takes the design of the running session. */
  async open(): Promise<void> {
    await this.#guarded(async () => {
      const opened = await this.#desk.open();
      this.load = opened.load;
      this.#take(opened);
      this.#before = [];
    });
    await this.#ask();
  }

  /** A design without a file. What stood here is one step back. */
  begin(text: string): void {
    this.#remember('');
    this.#take({ file: null, folder: this.folder, text, version: null });
    this.#savedText = '';
    void this.#ask();
  }

  edit(edits: readonly DesignEdit[]): void {
    this.#edits.push(...edits);
    void this.#ask();
  }

  /** The whole text anew, as when a rail was added. */
  replace(text: string): void {
    this.#remember('');
    this.#text = text;
    void this.#ask();
  }

  undo(): void {
    const before = this.#before.pop();
    if (before === undefined) return;
    this.#edits = [];
    this.#text = before.text;
    void this.#ask();
  }

  setLoad(load: LoadState): void {
    this.load = load;
    void this.#ask();
  }

  /** Gives why nothing was written; null when it is in the file. */
  async save(file: string): Promise<string | null> {
    const text = this.#text;
    const version = file === this.file ? this.#version : null;
    let why: string | null = 'Railminder doesn’t answer. Is it still running?';
    await this.#guarded(async () => {
      const saved = await this.#desk.save({ text, file, version });
      why = saved.why;
      if (saved.why !== null) return;
      this.file = saved.file;
      this.#version = saved.version;
      this.#savedText = text;
    });
    this.#onChange();
    return why;
  }

  /** Gives what was wrong with the answers, by field; null when the rail is there. */
  async addRail(rail: {
    name: string;
    volts: string;
    full: string;
  }): Promise<Readonly<Record<string, string>> | null> {
    let complaints: Readonly<Record<string, string>> | null = { name: 'Railminder doesn’t answer' };
    await this.#guarded(async () => {
      const begun = await this.#desk.rail({ text: this.#text, ...rail });
      complaints = begun.complaints;
      if (begun.text !== null) this.replace(begun.text);
    });
    return complaints;
  }

  #take({ file, folder, text, version }: Omit<OpenedDesign, 'load'>): void {
    this.file = file;
    this.folder = folder;
    this.#version = version;
    this.#text = text;
    this.#savedText = text;
    this.#edits = [];
  }

  /** Keystrokes in one field are one step back. */
  #remember(key: string): void {
    if (key !== '' && this.#before.at(-1)?.key === key) return;
    this.#before = [...this.#before, { text: this.#text, key }].slice(-MOST_STEPS);
  }

  /** One question at a time; what changes meanwhile is asked next. */
  async #ask(): Promise<void> {
    clearTimeout(this.#idle);
    this.#idle = undefined;
    if (this.#isAsking) {
      this.#wantsFull = false;
      return;
    }
    this.#isAsking = true;
    do await this.#askOnce();
    while (this.trouble === '' && (this.#edits.length > 0 || this.#isBehind()));
    this.#isAsking = false;
    this.#onChange();
    if (this.prediction?.draws === 'quick') this.#idle = setTimeout(() => this.#askFull(), IDLE_MS);
  }

  #askFull(): void {
    this.#wantsFull = true;
    void this.#ask();
  }

  async #askOnce(): Promise<void> {
    const edits = this.#edits;
    const draws = this.#wantsFull && edits.length === 0 ? 'full' : 'quick';
    const text = this.#text;
    this.#edits = [];
    this.#wantsFull = false;
    await this.#guarded(async () => {
      const preview = await this.#desk.preview({ text, edits, load: this.load, draws });
      // What was taken back or begun meanwhile stands; the next question is about that.
      if (this.#text !== text) return;
      if (preview.text !== text) this.#remember(edits.map(({ path }) => path.join('.')).join());
      this.#text = preview.text;
      this.preview = preview;
      this.prediction = preview.prediction ?? this.prediction;
    });
    // What couldn't be answered is asked again with the next change, or when the person tries again.
    if (this.trouble !== '') this.#edits = [...edits, ...this.#edits];
    this.#onChange();
  }

  /** What was answered isn't about what stands here now. */
  #isBehind(): boolean {
    const { preview, load } = this;
    if (preview === null) return false;
    return preview.text !== this.#text || (preview.prediction !== null && preview.prediction.load !== load);
  }

  async #guarded(work: () => Promise<void>): Promise<void> {
    try {
      await work();
      this.trouble = '';
    } catch (error) {
      if (!(error instanceof DeskTrouble)) throw error;
      this.trouble = error.message;
    }
  }
}
