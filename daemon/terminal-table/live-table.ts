import type { StepListener } from '../session.js';
import type { WatchState } from '../watch/state.js';
import { tableLines } from './table.js';

/** A terminal that text can be written to, and its size. */
export interface Screen {
  write(text: string): void;
  readonly columns?: number;
  readonly rows?: number;
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

  constructor(screen: Screen) {
    this.#screen = screen;
  }

  /** Paints the table anew as time goes by. */
  readonly onStep: StepListener = (event, state) => {
    this.#state = state;
    if (event.kind !== 'tick' || state.nowMs - this.#paintedAtMs < REPAINT_MS) return;
    this.#paintedAtMs = state.nowMs;
    this.#screen.write(`${this.#over()}${this.#table()}`);
  };

  /** Writes a line above the table. */
  print(line: string): void {
    this.#screen.write(`${this.#over()}${line}\n${this.#table()}`);
  }

  #over(): string {
    return backOver(this.#painted);
  }

  #table(): string {
    if (this.#state === null) return '';
    const { columns = 80, rows = 24 } = this.#screen;
    // A line as wide as the screen would wrap on some terminals, and more lines than it has can't be gone back over.
    const lines = tableLines(this.#state, { columns: columns - 1, lines: Math.max(3, rows - 2) });
    this.#painted = lines.length;
    return lines.map((line) => `${line}\n`).join('');
  }
}
