import { LitElement, css, html, nothing, type CSSResultGroup, type TemplateResult } from 'lit';
import { repeat } from 'lit/directives/repeat.js';
import type { ComparedPoint, ComparedSession, CompareView } from '../../daemon/serve/job-views.js';
import {
  formatDuration,
  formatRange,
  formatSessionTime,
  keepUnits,
  pointStyle,
  sentenceCase,
} from '../format.js';
import { askComparison, troubleWords } from '../job/ask-job.js';
import { whenWords } from '../job/job-words.js';
import type { RecordedLine } from '../job/recorded-options.js';
import '../job/recorded-plot.js';
import { moved, within, zoomed, type Span } from '../job/span.js';
import { sharedStyles } from '../theme.js';
import './span-buttons.js';
import type { SpanCommand } from './span-buttons.js';

/** Two recordings over one axis from their first volts on, with what differs in a sentence for each test point. */
export class RmJobCompare extends LitElement {
  static override properties = {
    earlier: { attribute: false },
    later: { attribute: false },
    view: { state: true },
    span: { state: true },
    trouble: { state: true },
  };
  /** Names of the two recordings. */
  declare earlier: string;
  declare later: string;
  declare view: CompareView | null;
  declare span: Span;
  declare trouble: string;

  static override styles: CSSResultGroup = [
    sharedStyles,
    css`
      :host {
        display: grid;
        gap: 1.2rem;
      }
      :host > * {
        min-width: 0;
      }
      .two,
      .charts {
        display: grid;
        grid-template-columns: repeat(auto-fit, minmax(min(100%, 26rem), 1fr));
        gap: 1.2rem;
      }
      .session {
        min-width: 0;
        padding: 0.7rem 1rem;
        border: 1px solid var(--edge);
        border-radius: 0.6rem;
        background: var(--sheet);
        overflow-wrap: anywhere;
      }
      .session h3 {
        display: flex;
        align-items: center;
        gap: 0.6rem;
      }
      .sample {
        width: 2.6rem;
        height: 0.6rem;
        flex: none;
      }
      .sample path {
        fill: none;
        stroke: var(--measured);
        stroke-width: 3;
      }
      .sample.before path {
        stroke: var(--before);
        stroke-dasharray: 9 5;
      }
      figure {
        min-width: 0;
        padding: 0.8rem 1rem;
        border: 1px solid var(--edge);
        border-radius: 0.6rem;
        background: var(--sheet);
      }
      .difference {
        margin: 0.2rem 0 0.4rem;
        overflow-wrap: anywhere;
      }
      ul.alarms {
        margin-top: 0.4rem;
        padding-inline-start: 1.1rem;
        list-style: disc;
      }
      @media print {
        rm-span-buttons {
          display: none;
        }
        figure {
          break-inside: avoid;
        }
      }
    `,
  ];

  constructor() {
    super();
    this.view = null;
    this.span = { fromMs: 0, toMs: 1 };
    this.trouble = '';
  }

  override connectedCallback(): void {
    super.connectedCallback();
    if (this.view === null) void this.#open();
  }

  protected override render(): TemplateResult {
    if (this.view !== null) return this.#opened(this.view);
    return this.trouble === ''
      ? html`<p role="status">Reading both sessions from front to back …</p>`
      : html`<p role="alert">${this.trouble}</p>
          <p><button class="button" @click=${() => void this.#open()}>Try again</button></p>`;
  }

  #opened(view: CompareView): TemplateResult {
    return html`<div>
        <h2 tabindex="-1">Before and after</h2>
        <p>
          Both recorded; time runs from the first volts of each.
          ${view.sameDesign ? 'The design file was the same.' : 'The design file differs between them.'}
        </p>
      </div>
      <div class="two">
        ${session('Before', 'before', view.before)} ${session('Afterwards', 'measured', view.after)}
      </div>
      <rm-span-buttons
        .span=${this.span}
        .lengthMs=${lengthOf(view)}
        @rm-span-command=${(event: CustomEvent<SpanCommand>) => this.#command(event.detail)}
      ></rm-span-buttons>
      ${view.points.length === 0 ? html`<p>Neither session measured anything that the other did.</p>` : nothing}
      <div
        class="charts"
        @rm-span=${(event: CustomEvent<Span>) => (this.span = within(event.detail, lengthOf(view)))}
      >
        ${repeat(
          view.points,
          ({ point }) => point.id,
          (one) => this.#figure(one),
        )}
      </div>`;
  }

  #figure(one: ComparedPoint): TemplateResult {
    const { point } = one;
    // The sentence names its point for places without a heading.
    const words = sentenceCase(keepUnits(one.sentence.replace(`${point.id}: `, '')));
    const band = formatRange(point.low, point.high, pointStyle(point));
    return html`<figure>
      <h3>${sentenceCase(point.label)}</h3>
      <p class="difference number">${words}</p>
      <rm-recorded-plot
        .point=${point}
        .lines=${linesOf(one)}
        .span=${this.span}
        .description=${`${sentenceCase(point.label)} of both sessions from their first volts on. ${words}. Predicted ${band}.`}
      ></rm-recorded-plot>
    </figure>`;
  }

  async #open(): Promise<void> {
    this.trouble = '';
    try {
      const view = await askComparison(this.earlier, this.later);
      this.view = view;
      this.span = within({ fromMs: 0, toMs: firstLength(view) }, lengthOf(view));
      await this.updateComplete;
      this.renderRoot.querySelector<HTMLElement>('h2')?.focus();
    } catch (error) {
      this.trouble = troubleWords(error);
    }
  }

  #command(command: SpanCommand): void {
    if (this.view === null) return;
    const lengthMs = lengthOf(this.view);
    const { span } = this;
    const middleMs = (span.fromMs + span.toMs) / 2;
    const spans = {
      closer: () => zoomed(span, 0.5, middleMs, lengthMs),
      wider: () => zoomed(span, 2, middleMs, lengthMs),
      earlier: () => moved(span, -0.5, lengthMs),
      later: () => moved(span, 0.5, lengthMs),
      whole: () => within({ fromMs: 0, toMs: lengthMs }, lengthMs),
    };
    this.span = spans[command]();
  }
}

function sinceOn({ lengthMs, powerOnAtMs }: ComparedSession): number {
  return lengthMs - (powerOnAtMs ?? 0);
}

/** Of the longer of both, from its first volts on. */
function lengthOf({ before, after }: CompareView): number {
  return Math.max(1, sinceOn(before), sinceOn(after));
}

/** Where one is much longer the shorter one would be a speck, so that it is looked at first. */
function firstLength(view: CompareView): number {
  const shorter = Math.min(sinceOn(view.before), sinceOn(view.after));
  const longer = lengthOf(view);
  return shorter > 0 && longer > 3 * shorter ? shorter : longer;
}

const lines = new WeakMap<ComparedPoint, readonly RecordedLine[]>();

/** The same array for the same point, so that a chart is given new data only when there is some. */
function linesOf(one: ComparedPoint): readonly RecordedLine[] {
  const known = lines.get(one);
  if (known !== undefined) return known;
  const made: readonly RecordedLine[] = [
    ...(one.before === null ? [] : [{ curve: one.before, kind: 'before' } as const]),
    ...(one.after === null ? [] : [{ curve: one.after, kind: 'measured' } as const]),
  ];
  lines.set(one, made);
  return made;
}

function session(title: string, kind: RecordedLine['kind'], one: ComparedSession): TemplateResult {
  const { begun, file, lengthMs, powerOnAtMs, alarms, problems } = one;
  const on =
    powerOnAtMs === null
      ? 'no volts seen, so it begins at its start'
      : `first volts at ${formatSessionTime(powerOnAtMs)}`;
  return html`<section class="session">
    <h3>
      <svg class="sample ${kind}" viewBox="0 0 42 10" aria-hidden="true"><path d="M0 5H42" /></svg>
      ${title}${kind === 'before' ? ' (dashed)' : ''}
    </h3>
    <p class="number">${whenWords(begun)}, ${begun.load} load, ${formatDuration(lengthMs)}, ${on}.</p>
    <p class="small quiet">${file}</p>
    ${
      alarms.length === 0
        ? html`<p>No alarm.</p>`
        : html`<ul class="alarms number">
            ${alarms.map((sentence) => html`<li>${keepUnits(sentence)}</li>`)}
          </ul>`
    }
    ${problems.length > 0 ? html`<p><strong>Damaged:</strong> ${problems[0]}</p>` : nothing}
  </section>`;
}

customElements.define('rm-job-compare', RmJobCompare);
