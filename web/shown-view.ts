import { VIEWS, viewAt } from './views/registry.js';
import type { ViewElement, ViewEntry } from './views/view.js';

/** Follows the address of the page: makes the view that it names and keeps those that were shown before. */
export class ShownView {
  entry: ViewEntry = VIEWS[0];
  readonly #kept = new Map<string, ViewElement>();
  readonly #onChange: (byPerson: boolean) => void;
  readonly #onHash = (): void => this.#follow(true);

  /** @param onChange is told whether a person went there, or the page has just been opened. */
  constructor(onChange: (byPerson: boolean) => void) {
    this.#onChange = onChange;
  }

  start(): void {
    window.addEventListener('hashchange', this.#onHash);
    this.#follow(false);
  }

  stop(): void {
    window.removeEventListener('hashchange', this.#onHash);
  }

  go(entry: ViewEntry): void {
    window.location.hash = `#/${entry.name}`;
  }

  get element(): ViewElement {
    const { name, tag } = this.entry;
    const element = this.#kept.get(name) ?? (document.createElement(tag) as ViewElement);
    this.#kept.set(name, element);
    return element;
  }

  #follow(byPerson: boolean): void {
    this.entry = viewAt(window.location.hash);
    this.#onChange(byPerson);
  }
}
