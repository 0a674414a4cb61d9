import type { StepListener } from '../session.js';
import type { WatchState } from '../watch/state.js';
import { cut, tableLines } from './table.js';

/** A terminal that text can be written to, and its size. */
export interface Screen {
  write(text: string): void;
  readonly columns?: number;
  readonly rows?: number;
  /** What it hasn't taken yet. */
  readonly writableLength?: number;
}

const REPAINT_MS = 500;
/** ECMA-48: cursor up so many lines, to the line's start, and clear to the end of the screen. */
const backOver = (lines: number): string => (lines === 0 ? '' : `\u001b[${lines}A\r\u001b[0J`);

/** Keeps a table of the measured test points at the bottom of a terminal; lines go above it. */
export class LiveTable {
  readonly #screen: Screen;
  #painted = 0;
  #paintedAtMs = -Infinity;
  #state: WatchState | null = null;
  #below: () => readonly string[] = () => [];

  constructor(screen: Screen) {
    this.#screen = screen;
  }

  /** Paints the table anew as time goes by. */
  readonly onStep: StepListener = (event, state) => {
    this.#state = state;
    if (event.kind !== 'tick' || state.nowMs - this.#paintedAtMs < REPAINT_MS) return;
    this.#paintedAtMs = state.nowMs;
    // One that takes nothing is shown the newest table once it does, not all of them.
    if ((this.#screen.writableLength ?? 0) === 0) this.repaint();
  };

  /** Lines that stand under the table from now on. */
  showBelow(lines: () => readonly string[]): void {
    this.#below = lines;
  }

  repaint(): void {
    this.#screen.write(`${this.#over()}${this.#table()}`);
  }

  /** Writes a line above the table. */
  print(line: string): void {
    this.#screen.write(`${this.#over()}${line}\n${this.#table()}`);
  }

  #over(): string {
    return backOver(this.#painted);
  }

  #table(): string {
    if (this.#state === null) return '';
    // A terminal that doesn't know its size says 0.
    const columns = this.#screen.columns || 80;
    const rows = this.#screen.rows || 24;
    // A line as wide as the screen would wrap on some terminals, and more lines than it has can't be gone back over.
    const below = this.#below().map((line) => cut(line, columns - 1));
    const room = { columns: columns - 1, lines: Math.max(3, rows - 2 - below.length) };
    const lines = [...tableLines(this.#state, room), ...below];
    this.#painted = lines.length;
    return lines.map((line) => `${line}\n`).join('');
  }
}
