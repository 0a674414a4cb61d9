import {
  LitElement,
  css,
  html,
  nothing,
  type CSSResultGroup,
  type PropertyValues,
  type TemplateResult,
} from 'lit';
import type { PointView, TypingPlace } from '../../daemon/serve/messages.js';
import { formatQuantity, formatRange, pointStyle, sentenceCase } from '../format.js';
import { sharedStyles } from '../theme.js';
import { tell } from '../tell.js';

/** What a person read off their instrument, as they typed it, and for which test point. */
export interface Typed {
  readonly place: TypingPlace;
  readonly text: string;
}

/** One field for an instrument that a person reads (`rm-typed`): once a reading is taken, the next point is asked for. */
export class RmTyping extends LitElement {
  static override properties = {
    places: { attribute: false },
    points: { attribute: false },
    live: { type: Boolean },
    wanted: { state: true },
    taken: { state: true },
  };
  declare places: readonly TypingPlace[];
  declare points: readonly PointView[];
  declare live: boolean;
  /** The test point that is asked for; the first one when it is gone. */
  declare wanted: string | null;
  declare taken: string;

  static override styles: CSSResultGroup = [
    sharedStyles,
    css`
      form {
        display: flex;
        flex-wrap: wrap;
        align-items: end;
        gap: 0.6rem 0.8rem;
        margin-top: 0.7rem;
      }
      .field {
        display: grid;
        gap: 0.2rem;
        min-width: 0;
      }
      input[type='text'] {
        width: 9rem;
        font-size: 1.3rem;
      }
      [role='status'] {
        min-height: 1.4em;
      }
    `,
  ];

  /** What was sent and not yet seen again, with the time of the reading before it. */
  #sent: { readonly point: string; readonly atMs: number | null } | null = null;

  constructor() {
    super();
    this.wanted = null;
    this.taken = '';
  }

  protected override willUpdate(changed: PropertyValues): void {
    if (this.#sent === null || !changed.has('points')) return;
    const point = this.#pointOf(this.#sent.point);
    // Moving the probe there clears the point first.
    if (point === undefined || point.atMs === null || point.atMs === this.#sent.atMs) return;
    this.#sent = null;
    this.taken = `Taken: ${point.label} ${point.value === null ? (point.mark ?? 'no number') : formatQuantity(point.value, pointStyle(point))}`;
    this.#goOn(point.id);
  }

  protected override render(): TemplateResult {
    const place = this.#place();
    const point = place && this.#pointOf(place.point);
    return html`<h2>Read your meter</h2>
      <form @submit=${(event: SubmitEvent) => this.#submit(event)}>
        <span class="field">
          <label for="point">Test point</label>
          <select id="point" @change=${(event: Event) => this.#go((event.target as HTMLSelectElement).value)}>
            ${this.places.map(
              (one) =>
                html`<option value=${one.point} .selected=${one.point === place?.point}>
                  ${sentenceCase(this.#pointOf(one.point)?.label ?? one.point)} (${one.point})
                </option>`,
            )}
          </select>
        </span>
        <span class="field">
          <label for="shown">${place?.point ?? ''} reads</label>
          <input
            id="shown"
            type="text"
            inputmode="decimal"
            autocomplete="off"
            maxlength="60"
            aria-describedby="predicted"
            ?disabled=${!this.live}
          />
        </span>
        <button class="button strong" ?disabled=${!this.live}>Enter</button>
      </form>
      <p class="small quiet number" id="predicted">
        ${point ? html`predicted ${formatRange(point.low, point.high, pointStyle(point))}; ` : nothing} 12.03,
        45m or OL as the meter shows it
      </p>
      <p class="small" role="status">${this.taken}</p>`;
  }

  #place(): TypingPlace | undefined {
    return this.places.find(({ point }) => point === this.wanted) ?? this.places[0];
  }

  #pointOf(id: string): PointView | undefined {
    return this.points.find((point) => point.id === id);
  }

  #go(point: string): void {
    this.wanted = point;
    this.#sent = null;
    this.#field()?.focus();
  }

  #goOn(from: string): void {
    const at = this.places.findIndex(({ point }) => point === from);
    this.wanted = (this.places[at + 1] ?? this.places[0])?.point ?? null;
    const field = this.#field();
    if (field) field.value = '';
  }

  #submit(event: SubmitEvent): void {
    event.preventDefault();
    const place = this.#place();
    const text = this.#field()?.value.trim() ?? '';
    if (place === undefined || text === '') return;
    this.#sent = { point: place.point, atMs: this.#pointOf(place.point)?.atMs ?? null };
    const detail: Typed = { place, text };
    tell(this, 'rm-typed', detail);
  }

  #field(): HTMLInputElement | null {
    return this.renderRoot.querySelector('input');
  }
}

customElements.define('rm-typing', RmTyping);
