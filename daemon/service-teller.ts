import type { Service, ServiceEvent } from './watch/events.js';

/** Tells when what works beside the watching stops and when it works again, each change once. */
export class ServiceTeller {
  readonly #take: (event: Omit<ServiceEvent, 'atMs'>) => void;
  /** Why each that doesn't work doesn't. */
  readonly #down = new Map<string, string>();

  constructor(take: (event: Omit<ServiceEvent, 'atMs'>) => void) {
    this.#take = take;
  }

  /** @param why null: it works */
  tell(service: Service, why: string | null, name: string): void {
    const key = `${service} ${name}`;
    if ((this.#down.get(key) ?? null) === why) return;
    if (why === null) this.#down.delete(key);
    else this.#down.set(key, why);
    this.#take({ kind: 'service', service, name, working: why === null, why: why ?? '' });
  }
}
