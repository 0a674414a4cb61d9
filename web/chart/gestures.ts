import type { Timeline } from './timeline.js';

/** Where the drawn part of a chart lies on the page, in CSS pixels. */
export type PlotPlace = () => { readonly left: number; readonly width: number };

const WHEEL_ZOOM = 1.0015;
const KEY_PAN = 0.1;
const KEY_ZOOM = 0.8;

/**
 * Moves the shared time axis by hand: dragging and a sideways wheel pan, two fingers and a wheel with Ctrl zoom, a
 * double press follows the newest reading again. On a focused chart the arrows pan and plus and minus zoom.
 */
export class Gestures {
  readonly #frame: HTMLElement;
  readonly #timeline: () => Timeline;
  readonly #place: PlotPlace;
  /** Fingers and pressed mice, by their id, at x. */
  readonly #down = new Map<number, number>();

  constructor(frame: HTMLElement, timeline: () => Timeline, place: PlotPlace) {
    this.#frame = frame;
    this.#timeline = timeline;
    this.#place = place;
    frame.addEventListener('pointerdown', (event) => this.#press(event));
    frame.addEventListener('pointermove', (event) => this.#move(event));
    for (const kind of ['pointerup', 'pointercancel'] as const) {
      frame.addEventListener(kind, (event) => void this.#down.delete(event.pointerId));
    }
    frame.addEventListener('wheel', (event) => this.#wheel(event), { passive: false });
    frame.addEventListener('dblclick', () => this.#timeline().do('now'));
    frame.addEventListener('keydown', (event) => this.#key(event));
  }

  #press(event: PointerEvent): void {
    if (event.button !== 0) return;
    this.#down.set(event.pointerId, event.clientX);
    this.#frame.setPointerCapture(event.pointerId);
  }

  #move(event: PointerEvent): void {
    const was = this.#down.get(event.pointerId);
    if (was === undefined || was === event.clientX) return;
    const others = [...this.#down].filter(([id]) => id !== event.pointerId).map(([, x]) => x);
    this.#down.set(event.pointerId, event.clientX);
    const other = others[0];
    if (other === undefined) this.#timeline().pan((was - event.clientX) * this.#msPerPixel());
    else this.#pinch(Math.abs(was - other), Math.abs(event.clientX - other), (event.clientX + other) / 2);
  }

  #pinch(before: number, now: number, middle: number): void {
    if (now > 8 && before > 8) this.#timeline().zoom(before / now, this.#timeAt(middle));
  }

  #wheel(event: WheelEvent): void {
    const sideways = event.shiftKey ? event.deltaY + event.deltaX : event.deltaX;
    if (event.ctrlKey || event.metaKey) {
      this.#timeline().zoom(WHEEL_ZOOM ** event.deltaY, this.#timeAt(event.clientX));
    } else if (Math.abs(sideways) > (event.shiftKey ? 0 : Math.abs(event.deltaY))) {
      this.#timeline().pan(sideways * this.#msPerPixel());
    } else return;
    event.preventDefault();
  }

  #key(event: KeyboardEvent): void {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const { fromMs, toMs } = this.#timeline().span;
    const length = toMs - fromMs;
    const middle = (fromMs + toMs) / 2;
    const acts: Readonly<Record<string, () => void>> = {
      ArrowLeft: () => this.#timeline().pan(-KEY_PAN * length),
      ArrowRight: () => this.#timeline().pan(KEY_PAN * length),
      '+': () => this.#timeline().zoom(KEY_ZOOM, middle),
      '-': () => this.#timeline().zoom(1 / KEY_ZOOM, middle),
      Home: () => this.#timeline().do('start'),
      End: () => this.#timeline().do('now'),
    };
    const act = acts[event.key];
    if (act === undefined) return;
    event.preventDefault();
    act();
  }

  #msPerPixel(): number {
    const { fromMs, toMs } = this.#timeline().span;
    return (toMs - fromMs) / Math.max(1, this.#place().width);
  }

  #timeAt(clientX: number): number {
    return this.#timeline().span.fromMs + (clientX - this.#place().left) * this.#msPerPixel();
  }
}
