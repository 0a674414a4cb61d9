import { VIEWS, viewAt } from './views/registry.js';
import type { ViewElement, ViewEntry } from './views/view.js';

/** Follows the address of the page: fetches the view that it names and keeps those that were shown before. */
export class ShownView {
  entry: ViewEntry = VIEWS[0];
  /** Null while it's being fetched, or when it couldn't be. */
  element: ViewElement | null = null;
  failed = false;
  readonly #kept = new Map<string, ViewElement>();
  readonly #onChange: (byPerson: boolean) => void;
  readonly #onHash = (): void => void this.#follow(true);

  /** @param onChange is told whether a person went there, or the page has just been opened. */
  constructor(onChange: (byPerson: boolean) => void) {
    this.#onChange = onChange;
  }

  start(): void {
    window.addEventListener('hashchange', this.#onHash);
    void this.#follow(false);
  }

  stop(): void {
    window.removeEventListener('hashchange', this.#onHash);
  }

  go(entry: ViewEntry): void {
    window.location.hash = `#/${entry.name}`;
  }

  /** Tries once more to fetch what couldn't be fetched. */
  again(): void {
    void this.#follow(true);
  }

  async #follow(byPerson: boolean): Promise<void> {
    const entry = viewAt(window.location.hash);
    this.entry = entry;
    this.element = this.#kept.get(entry.name) ?? null;
    this.failed = false;
    if (this.element === null) {
      this.#onChange(byPerson);
      const isThere = await entry.load().then(
        () => true,
        () => false,
      );
      if (this.entry !== entry) return;
      this.failed = !isThere;
      if (isThere) this.element = this.#made(entry);
    }
    this.#onChange(byPerson);
  }

  #made({ name, tag }: ViewEntry): ViewElement {
    const made = document.createElement(tag) as ViewElement;
    this.#kept.set(name, made);
    return made;
  }
}
