/** Does one thing after the other, and of those that wait only the newest: a hand on a slider asks faster than that. */
export class Latest {
  #isBusy = false;
  #next: (() => Promise<void>) | null = null;

  /** @param work must not reject */
  ask(work: () => Promise<void>): void {
    this.#next = work;
    if (!this.#isBusy) void this.#run();
  }

  async #run(): Promise<void> {
    this.#isBusy = true;
    while (this.#next !== null) {
      const work = this.#next;
      this.#next = null;
      await work();
    }
    this.#isBusy = false;
  }
}
