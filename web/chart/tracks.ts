import type { DaemonMessage } from '../../daemon/serve/messages.js';
import { Track, type Columns } from './track.js';

const NOTHING: Columns = { atMs: [], value: [] };

/** The readings behind the charts, one track a test point, fed by the daemon's messages. */
export class Tracks {
  #byPoint = new Map<string, Track>();
  #startedAt: string | null = null;

  of(point: string): Columns {
    return this.#byPoint.get(point)?.columns ?? NOTHING;
  }

  take(message: DaemonMessage): void {
    if (message.kind === 'changes') {
      for (const [point, atMs, value] of message.readings) this.#track(point).append(atMs, value);
    } else if (message.kind === 'snapshot') {
      if (message.session.startedAt !== this.#startedAt) this.#byPoint.clear();
      this.#startedAt = message.session.startedAt;
      for (const [point, columns] of Object.entries(message.history)) this.#track(point).refill(columns);
    }
  }

  #track(point: string): Track {
    const known = this.#byPoint.get(point);
    if (known) return known;
    const track = new Track();
    this.#byPoint.set(point, track);
    return track;
  }
}
