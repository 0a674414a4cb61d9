import { LitElement, css, html, nothing, type CSSResultGroup, type TemplateResult } from 'lit';
import { repeat } from 'lit/directives/repeat.js';
import type { CurveView, MomentView, RecordingView } from '../../daemon/serve/job-views.js';
import type { PointView } from '../../daemon/serve/messages.js';
import { formatDuration, formatSessionTime, sentenceCase } from '../format.js';
import { askMoment, askOverview, jobAddress, troubleWords } from '../job/ask-job.js';
import { alarmTimesWords, curveWords, withBandAt } from '../job/curve-words.js';
import { whenWords } from '../job/job-words.js';
import { Latest } from '../job/latest.js';
import { firstLook } from '../job/marks.js';
import { MomentPlayer } from '../job/player.js';
import '../job/recorded-plot.js';
import { including, moved, within, zoomed, type Span } from '../job/span.js';
import { sharedStyles } from '../theme.js';
import './job-events.js';
import './job-moment.js';
import './job-links.js';
import './span-buttons.js';
import './time-bar.js';
import type { SpanCommand } from './span-buttons.js';
import type { PlaySpeed } from './time-bar.js';

/** One recording: its curves, the state at any moment, what happened, what can be taken along. */
export class RmJobRecording extends LitElement {
  static override properties = {
    file: { attribute: false },
    view: { state: true },
    span: { state: true },
    atMs: { state: true },
    moment: { state: true },
    speed: { state: true },
    trouble: { state: true },
    waiting: { state: true },
  };
  declare file: string;
  declare view: RecordingView | null;
  declare span: Span;
  declare atMs: number;
  declare moment: MomentView | null;
  declare speed: PlaySpeed;
  declare trouble: string;
  declare waiting: boolean;

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
      .charts {
        display: grid;
        grid-template-columns: repeat(auto-fit, minmax(min(100%, 26rem), 1fr));
        gap: 1.2rem;
      }
      figure {
        min-width: 0;
        padding: 0.8rem 1rem;
        border: 1px solid var(--edge);
        border-radius: 0.6rem;
        background: var(--sheet);
      }
      rm-recorded-plot {
        margin: 0.5rem 0;
      }
      .report {
        display: inline-block;
        padding-block: 0.2rem;
        color: var(--accent);
        font-weight: 600;
      }
      .damaged {
        padding: 0.6rem 1rem;
        border: 2px solid var(--outside);
        border-radius: 0.6rem;
        overflow-wrap: anywhere;
      }
      .below {
        display: grid;
        grid-template-columns: repeat(auto-fit, minmax(min(100%, 24rem), 1fr));
        gap: 1.2rem 2rem;
      }
      .below > * {
        min-width: 0;
      }
      @media print {
        rm-time-bar,
        rm-span-buttons {
          display: none;
        }
        figure {
          break-inside: avoid;
        }
      }
    `,
  ];

  #curves = new Latest();
  #moments = new Latest();
  #player = new MomentPlayer((byMs) => this.#playOn(byMs));

  constructor() {
    super();
    this.view = null;
    this.span = { fromMs: 0, toMs: 1 };
    this.atMs = 0;
    this.moment = null;
    this.speed = 10;
    this.trouble = '';
    this.waiting = false;
  }

  override connectedCallback(): void {
    super.connectedCallback();
    if (this.view === null) void this.#open();
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.#player.pause();
  }

  protected override render(): TemplateResult {
    if (this.view === null) {
      return this.trouble === ''
        ? html`<p>Opening the recording …</p>`
        : html`<p role="alert">${this.trouble}</p>
            <p><button class="button" @click=${() => void this.#open()}>Try again</button></p>`;
    }
    return this.#opened(this.view);
  }

  #opened(view: RecordingView): TemplateResult {
    return html`${this.#head(view)} ${damage(view)}
      ${this.trouble === '' ? nothing : html`<p role="alert">${this.trouble}</p>`}
      <rm-time-bar
        .atMs=${this.atMs}
        .lengthMs=${view.lengthMs}
        .marks=${view.marks}
        ?playing=${this.#player.playing}
        .speed=${this.speed}
        @rm-moment=${(event: CustomEvent<number>) => this.#goTo(event.detail)}
        @rm-play=${() => this.#playOrPause()}
        @rm-speed=${(event: CustomEvent<PlaySpeed>) => this.#setSpeed(event.detail)}
      ></rm-time-bar>
      <rm-job-moment .moment=${this.moment} ?waiting=${this.waiting}></rm-job-moment>
      <rm-span-buttons
        .span=${this.span}
        .lengthMs=${view.lengthMs}
        @rm-span-command=${(event: CustomEvent<SpanCommand>) => this.#command(event.detail)}
      ></rm-span-buttons>
      <div
        class="charts"
        @rm-span=${(event: CustomEvent<Span>) => this.#show(within(event.detail, view.lengthMs))}
        @rm-moment=${(event: CustomEvent<number>) => this.#goTo(event.detail)}
      >
        ${repeat(
          view.points,
          ({ id }) => id,
          (point, i) => this.#figure(view, point, view.curves[i]),
        )}
      </div>
      <div class="below">
        <rm-job-events
          .marks=${view.marks}
          .leftOut=${view.marksLeftOut}
          @rm-moment=${(event: CustomEvent<number>) => this.#goTo(event.detail)}
        ></rm-job-events>
        <rm-job-links .file=${view.file}></rm-job-links>
      </div>`;
  }

  #head({ begun, file, lengthMs, readings, running }: RecordingView): TemplateResult {
    return html`<div>
      <h2 tabindex="-1">Recording of ${whenWords(begun)}</h2>
      <p class="number">
        ${begun.design}, ${begun.load} load, ${formatDuration(lengthMs)}, ${readings.toLocaleString('en-GB')}
        readings.
        ${running ? 'It is being recorded now; this is as far as it had come when it was opened.' : ''}
      </p>
      <p class="small quiet">
        ${file} ·
        <a class="report" href=${jobAddress('report', { recording: file })} target="_blank" rel="noopener"
          >Report to print</a
        >
      </p>
    </div>`;
  }

  #figure(
    view: RecordingView,
    point: PointView,
    curve: CurveView | undefined,
  ): TemplateResult | typeof nothing {
    if (curve === undefined) return nothing;
    const then = withBandAt(point, view.bands[point.id], this.atMs);
    const words = curveWords(then, curve, this.span, this.atMs);
    return html`<figure>
      <h3>${sentenceCase(point.label)}</h3>
      <rm-recorded-plot
        .point=${point}
        .lines=${linesOf(curve)}
        .bands=${view.bands[point.id] ?? []}
        .marks=${view.marks}
        .span=${this.span}
        .atMs=${this.atMs}
        .description=${`Recorded ${point.label}, ${spanWords(this.span)}. ${words}${alarmTimesWords(view.marks, point.id, this.span)}`}
      ></rm-recorded-plot>
      <p class="small number">${words}</p>
    </figure>`;
  }

  async #open(): Promise<void> {
    this.trouble = '';
    try {
      const view = await askOverview(this.file, null, this.#columns());
      this.view = view;
      this.span = within({ fromMs: 0, toMs: view.lengthMs }, view.lengthMs);
      this.#goTo(firstLook(view.marks, view.lengthMs));
      await this.updateComplete;
      this.renderRoot.querySelector<HTMLElement>('h2')?.focus();
    } catch (error) {
      this.trouble = troubleWords(error);
    }
  }

  /** One stretch for each column of a chart's pixels, about. */
  #columns(): number {
    return Math.min(1500, Math.max(300, Math.round(window.innerWidth * 0.8)));
  }

  #goTo(atMs: number): void {
    const { view } = this;
    if (view === null) return;
    this.atMs = Math.min(view.lengthMs, Math.max(0, Math.round(atMs)));
    const span = including(this.span, this.atMs, view.lengthMs);
    if (span !== this.span) this.#show(span);
    this.waiting = true;
    this.#moments.ask(async () => {
      try {
        this.moment = await askMoment(this.file, this.atMs);
        this.trouble = '';
      } catch (error) {
        this.#failed(error);
      }
      this.waiting = false;
    });
  }

  #show(span: Span): void {
    this.span = span;
    this.#curves.ask(async () => {
      try {
        const part = await askOverview(this.file, span, this.#columns());
        if (this.view !== null) this.view = { ...this.view, points: part.points, curves: part.curves };
        this.trouble = '';
      } catch (error) {
        this.#failed(error);
      }
    });
  }

  #command(command: SpanCommand): void {
    const { span, atMs } = this;
    const lengthMs = this.view?.lengthMs ?? 1;
    switch (command) {
      case 'closer':
        return this.#show(zoomed(span, 0.5, atMs, lengthMs));
      case 'wider':
        return this.#show(zoomed(span, 2, atMs, lengthMs));
      case 'earlier':
        return this.#show(moved(span, -0.5, lengthMs));
      case 'later':
        return this.#show(moved(span, 0.5, lengthMs));
      case 'whole':
        return this.#show(within({ fromMs: 0, toMs: lengthMs }, lengthMs));
    }
  }

  #playOrPause(): void {
    if (this.#player.playing) this.#player.pause();
    else {
      if (this.atMs >= (this.view?.lengthMs ?? 0)) this.#goTo(0);
      this.#player.play(this.speed);
    }
    this.requestUpdate();
  }

  #setSpeed(speed: PlaySpeed): void {
    this.speed = speed;
    if (this.#player.playing) this.#player.play(speed);
  }

  #playOn(byMs: number): void {
    this.#goTo(this.atMs + byMs);
    if (this.atMs >= (this.view?.lengthMs ?? 0)) this.#player.pause();
  }

  #failed(error: unknown): void {
    this.#player.pause();
    this.trouble = troubleWords(error);
  }
}

const lines = new WeakMap<CurveView, readonly { readonly curve: CurveView; readonly kind: 'measured' }[]>();

/** The same array for the same curve, so that a chart is given new data only when there is some. */
function linesOf(curve: CurveView) {
  const known = lines.get(curve);
  if (known !== undefined) return known;
  const made = [{ curve, kind: 'measured' }] as const;
  lines.set(curve, made);
  return made;
}

function spanWords({ fromMs, toMs }: Span): string {
  return `${formatSessionTime(fromMs)} to ${formatSessionTime(toMs)}`;
}

function damage({ problems, running }: RecordingView): TemplateResult | typeof nothing {
  if (problems.length === 0 || running) return nothing;
  return html`<div class="damaged">
    <p>
      <strong>This recording is not as it was written.</strong> What is shown is what could still be read.
    </p>
    ${problems.slice(0, 5).map((why) => html`<p class="small">${why}</p>`)}
    ${problems.length > 5 ? html`<p class="small">${problems.length - 5} more places.</p>` : nothing}
  </div>`;
}

customElements.define('rm-job-recording', RmJobRecording);
