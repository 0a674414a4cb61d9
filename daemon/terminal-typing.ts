import { closest } from './design/closest.js';
import { isTestPointId } from './design/test-points.js';
import { fittest, typingPlaces, type TypedChannel } from './serve/typing.js';
import type { TypingPlace } from './serve/messages.js';
import type { Session } from './session.js';
import { typedChannelsOf } from './typed-instruments.js';
import { pointStanding } from './watch/standing.js';
import { rangeWords, valueWords } from './watch/value-words.js';

/**
 * Takes readings that a person types at the terminal, one a line: `12.03` for the test point that is asked for,
 * `logic.volts 12.03` for another, `logic.volts` alone to go there, nothing to go on.
 * @param print writes one line
 */
export class TerminalTyping {
  readonly #session: Session;
  readonly #print: (line: string) => void;
  readonly #typed: readonly TypedChannel[];
  readonly #asks: boolean;
  #point: string | null = null;

  /** @param options `asks`: says which test point is next; true when left out */
  constructor(session: Session, print: (line: string) => void, options: { readonly asks?: boolean } = {}) {
    this.#asks = options.asks ?? true;
    const points = Object.keys(session.plan.prediction.points);
    this.#session = session;
    this.#print = print;
    this.#typed = session.instruments.flatMap((instrument) => typedChannelsOf(instrument, points));
  }

  /** Whether the bench has an instrument that is read by a person. */
  get isWanted(): boolean {
    return this.#typed.length > 0;
  }

  begin(): void {
    this.#print('Type what your meter shows and press Enter; "logic.volts 5.02" names the test point.');
    this.#goOn();
  }

  take(line: string): void {
    const text = line.trim();
    const [first = '', ...rest] = text.split(/\s+/);
    if (text === '') return this.#goOn();
    if (!isTestPointId(first)) return this.#reading(this.#point, text);
    if (rest.length > 0) return this.#reading(first, rest.join(' '));
    if (this.#placeAt(first) === null) return this.#print(this.#noPlace(first));
    this.#point = first;
    this.#ask();
  }

  #reading(point: string | null, text: string): void {
    const place = point === null ? null : this.#placeAt(point);
    if (place === null) return this.#print(this.#noPlace(point ?? ''));
    const { instrument, channel } = place;
    if (!place.there) this.#session.act({ kind: 'probe', instrument, channel, point: place.point });
    const why = this.#session.act({ kind: 'typed', instrument, channel, text });
    if (why !== null) return this.#print(`Not taken: ${why}`);
    this.#print(this.#taken(place.point));
    this.#point = place.point;
    this.#goOn();
  }

  /** An explicit name goes before what another instrument measures there. */
  #placeAt(point: string): TypingPlace | null {
    const found = this.#places().find((place) => place.point === point);
    if (found !== undefined) return found;
    const channel = fittest(this.#session.state, this.#typed, point);
    return channel === undefined
      ? null
      : { point, instrument: channel.instrument, channel: channel.channel, there: false };
  }

  #places(): readonly TypingPlace[] {
    return typingPlaces(this.#session.state, this.#typed);
  }

  /** The next test point in the design's order; the first after the last. */
  #goOn(): void {
    const points = this.#places().map(({ point }) => point);
    this.#point = points[points.indexOf(this.#point ?? '') + 1] ?? points[0] ?? null;
    this.#ask();
  }

  #ask(): void {
    const predicted = this.#session.plan.prediction.points[this.#point ?? ''];
    if (predicted === undefined || !this.#asks) return;
    const { id, label, low, high, unit } = predicted;
    this.#print(`Next: ${id} (${label}), predicted ${rangeWords(low, high, unit)}`);
  }

  #taken(point: string): string {
    const standing = pointStanding(this.#session.state, point);
    const unit = this.#session.plan.prediction.points[point]?.unit;
    if (standing === undefined || unit === undefined) return `${point}: taken`;
    if (standing.value === null)
      return `${point}: ${standing.mark ?? 'not comparable with what is predicted'}`;
    const verdict = standing.verdict === null ? '' : `, ${standing.verdict}`;
    return `${point}: ${valueWords(standing.value, unit)}${verdict}`;
  }

  #noPlace(point: string): string {
    const points = [...new Set(this.#typed.flatMap((one) => one.points))];
    const near = closest(point, points);
    return `Not taken: no reading is typed for "${point}"; ${near.length > 0 ? `did you mean ${near[0]}?` : `there are ${points.join(', ')}`}`;
  }
}
