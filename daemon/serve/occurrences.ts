import type { Effect } from '../watch/effects.js';
import type { WatchEvent } from '../watch/events.js';
import type { WatchState } from '../watch/state.js';
import { captureView } from './capture-view.js';
import { Marks } from './marks.js';
import type { CaptureView, ChangesMessage, MarkView, SettledView } from './messages.js';

type Told = Pick<ChangesMessage, 'marks' | 'captures' | 'settled'>;

/** What happens at single moments: told once as it comes, the marks and each point's newest capture to every new page. */
export class Occurrences {
  readonly #marks: Marks;
  readonly #captures = new Map<string, CaptureView>();
  #newMarks: MarkView[] = [];
  #newCaptures = new Map<string, CaptureView>();
  #newSettled = new Map<string, SettledView>();

  /** @param load under which the session began. */
  constructor(load: string) {
    this.#marks = new Marks(load);
  }

  take(event: WatchEvent, state: WatchState, effects: readonly Effect[]): void {
    this.#newMarks.push(...this.#marks.take(event, state, effects));
    for (const effect of effects) {
      if (effect.kind !== 'settled') continue;
      const { point, atMs, value, standardUncertainty } = effect;
      this.#newSettled.set(point, { point, atMs, value, standardUncertainty });
    }
    const capture = event.kind === 'capture' ? captureView(event, effects) : null;
    if (capture === null || !Object.hasOwn(state.plan.prediction.points, capture.point)) return;
    this.#captures.set(capture.point, capture);
    this.#newCaptures.set(capture.point, capture);
  }

  /** For a page that has just come. */
  all(): { readonly marks: readonly MarkView[]; readonly captures: readonly CaptureView[] } {
    return { marks: this.#marks.all, captures: [...this.#captures.values()] };
  }

  /** What came since the last call. */
  next(): Told {
    const marks = this.#newMarks;
    const captures = [...this.#newCaptures.values()];
    const settled = [...this.#newSettled.values()];
    this.#newMarks = [];
    this.#newCaptures = new Map();
    this.#newSettled = new Map();
    return {
      ...(marks.length > 0 && { marks }),
      ...(captures.length > 0 && { captures }),
      ...(settled.length > 0 && { settled }),
    };
  }
}
