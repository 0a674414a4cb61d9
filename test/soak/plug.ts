import type { Clock } from '../../drivers/clock.js';
import type { Link } from '../../drivers/link.js';
import { reopeningLink, type ConnectionListener } from '../../drivers/links/reopening.js';
import type { InstrumentPort } from '../../drivers/simulated/instrument-port.js';
import type { Outlet } from '../../drivers/simulated/outlet.js';

/**
 * The cable between a simulated instrument and the program, as a serial port is one: it goes away, comes back under
 * another path, sits on another device, and anything at all comes through it.
 */
export class Plug implements Outlet {
  readonly link: Link;
  /** Under which it comes back next. */
  path: string;
  readonly #home: InstrumentPort;
  #port: InstrumentPort;
  #isIn = true;
  #listener: ConnectionListener | null = null;

  constructor(name: string, port: InstrumentPort, clock: Clock) {
    this.path = `/dev/cabin-${name}`;
    this.#home = port;
    this.#port = port;
    port.attach(this);
    this.link = reopeningLink(
      {
        name,
        connect: (listener) => {
          if (!this.#isIn) return Promise.reject(new Error(`nothing at ${this.path}; plug it in`));
          this.#listener = listener;
          return Promise.resolve({
            path: this.path,
            write: (bytes: Uint8Array) => Promise.resolve(this.#port.receive(bytes)),
            close: () => {
              if (this.#listener === listener) this.#listener = null;
              return Promise.resolve();
            },
          });
        },
      },
      clock,
    );
  }

  /** Bytes that come out of the cable, whoever made them. */
  send(bytes: Uint8Array): void {
    this.#listener?.onBytes(new Uint8Array(bytes));
  }

  unplug(): Promise<void> {
    this.#isIn = false;
    this.#listener?.onLost('the plug was pulled');
    return Promise.resolve();
  }

  plugIn(): Promise<void> {
    this.#isIn = true;
    return Promise.resolve();
  }

  /** Puts it on another device, as a hand that takes the wrong one does. */
  async moveTo(port: InstrumentPort): Promise<void> {
    await this.unplug();
    this.#port.detach(this);
    this.#port = port;
    port.attach(this);
    await this.plugIn();
  }

  /** Back on its own device. */
  moveHome(): Promise<void> {
    return this.moveTo(this.#home);
  }
}
