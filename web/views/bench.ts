import { LitElement, css, html, nothing, type CSSResultGroup, type TemplateResult } from 'lit';
import { firstChoice, toggled } from '../chosen-points.js';
import type { Shelving } from '../elements/alarms.js';
import '../elements/alarms.js';
import type { CutOffOrder } from '../elements/cut-off.js';
import '../elements/cut-off.js';
import '../elements/captures.js';
import { fanOf } from '../chart/fan.js';
import { Timeline } from '../chart/timeline.js';
import { RmCharts } from '../elements/charts.js';
import { RmDemo } from '../elements/demo.js';
import '../elements/follow.js';
import '../elements/instruments.js';
import '../elements/part.js';
import type { ProbeMove } from '../elements/probe.js';
import '../elements/record.js';
import '../elements/supply.js';
import '../elements/suspects.js';
import '../elements/typing.js';
import '../elements/welcome.js';
import type { Typed } from '../elements/typing.js';
import { supplyBlocks } from '../supply-blocks.js';
import { sharedStyles } from '../theme.js';
import type { Shared, ViewCommand, ViewElement } from './view.js';

/** The running session: alarms, the supply with what is measured on it, charts, instruments, the record. */
export class RmBenchView extends LitElement implements ViewElement {
  static override properties = {
    shared: { attribute: false },
    byHand: { state: true },
    openPart: { state: true },
  };
  declare shared: Shared;
  /** The points chosen by a person; null while the first choice stands. */
  declare byHand: ReadonlySet<string> | null;
  /** The part of the supply that is open. */
  declare openPart: string | null;
  readonly #timeline = new Timeline();

  static override styles: CSSResultGroup = [
    sharedStyles,
    css`
      .page {
        display: grid;
        gap: 2.2rem;
        padding: 1.3rem var(--side) 3rem;
      }
      .page > *,
      .beside > * {
        min-width: 0;
      }
      .beside {
        display: grid;
        grid-template-columns: repeat(auto-fit, minmax(min(100%, 32rem), 1fr));
        gap: 2.2rem clamp(1.5rem, 3vw, 3.5rem);
      }
      .beside:not(:has(> :not([hidden]))) {
        display: none;
      }
      .about {
        display: grid;
        grid-template-columns: repeat(auto-fit, minmax(min(100%, 21rem), 1fr));
        gap: 2.2rem clamp(1.5rem, 3vw, 3.5rem);
        border-top: 1px solid var(--edge);
        padding-top: 1.6rem;
      }
      .about > * {
        min-width: 0;
      }
    `,
  ];

  constructor() {
    super();
    this.byHand = null;
    this.openPart = null;
  }

  obey(command: ViewCommand): void {
    if (command.kind === 'window') this.#timeline.show(command.minutes * 60_000);
    else if (command.kind === 'time') this.#timeline.do(command.action);
    else void this.#revealDemo();
  }

  protected override willUpdate(): void {
    const { points, session } = this.shared.state;
    this.#timeline.set(
      session?.nowMs ?? 0,
      this.shared.live && points.some((point) => fanOf(point) !== null),
    );
  }

  protected override render(): TemplateResult {
    return html`<div class="page" @rm-choose=${(event: CustomEvent<string>) => this.#choose(event.detail)}>
      ${this.#alarms()}
      <div class="beside">${this.#cutOff()} ${this.#suspects()} ${this.#typing()} ${this.#follow()}</div>
      <rm-welcome></rm-welcome>
      ${this.#supplyAndCharts()} ${this.#about()}
    </div>`;
  }

  #alarms(): TemplateResult {
    const { state, live, mayAct, keysOn, send } = this.shared;
    return html`<rm-alarms
      .alarms=${state.alarms}
      ?live=${live}
      ?everLive=${state.heardAtWallMs !== null}
      ?keys=${keysOn}
      ?mayAct=${mayAct}
      @rm-shelve=${(event: CustomEvent<Shelving>) => send({ kind: 'shelve', ...event.detail })}
    ></rm-alarms>`;
  }

  #cutOff(): TemplateResult | typeof nothing {
    const { state, live, mayAct, send } = this.shared;
    if (state.cutOffs.length === 0) return nothing;
    return html`<rm-cut-off
      .cutOffs=${state.cutOffs}
      ?live=${live}
      ?mayAct=${mayAct}
      @rm-cut-off=${(event: CustomEvent<CutOffOrder>) => send({ kind: 'cut-off', ...event.detail })}
    ></rm-cut-off>`;
  }

  #suspects(): TemplateResult {
    const { state, live } = this.shared;
    return html`<rm-suspects
      ?hidden=${state.suspicion === null}
      .suspicion=${state.suspicion}
      ?live=${live}
    ></rm-suspects>`;
  }

  #typing(): TemplateResult | typeof nothing {
    const { state, live, mayAct } = this.shared;
    if (state.typing.length === 0 || !mayAct) return nothing;
    return html`<rm-typing
      .places=${state.typing}
      .points=${state.points}
      ?live=${live}
      @rm-typed=${(event: CustomEvent<Typed>) => this.#typed(event.detail)}
    ></rm-typing>`;
  }

  #follow(): TemplateResult {
    const { state, live, handsFree } = this.shared;
    return html`<rm-follow
      ?hidden=${this.#channels().length === 0}
      .round=${handsFree.round}
      .words=${handsFree.words}
      .channels=${this.#channels()}
      ?live=${live}
      ?simulated=${state.demo !== null}
    ></rm-follow>`;
  }

  #supplyAndCharts(): TemplateResult {
    const { state, live, tracks, send } = this.shared;
    const chosen = this.#chosen();
    return html`<rm-supply
        .supply=${state.supply}
        .points=${state.points}
        .session=${state.session}
        ?live=${live}
        .open=${this.openPart}
        @rm-part=${(event: CustomEvent<string>) => this.#open(event.detail)}
        >${this.#part(chosen)}</rm-supply
      >
      <rm-charts
        .points=${state.points.filter((point) => chosen.has(point.id))}
        ?chosenByHand=${this.byHand !== null}
        .channels=${this.#channels()}
        .tracks=${tracks}
        .timeline=${this.#timeline}
        .marks=${state.marks}
        ?live=${live}
        .leftOut=${state.leftOut}
        @rm-choose-again=${() => (this.byHand = null)}
        @rm-probe=${(event: CustomEvent<ProbeMove>) => send({ kind: 'probe', ...event.detail })}
      ></rm-charts>
      <rm-captures
        ?hidden=${state.captures.length === 0}
        .captures=${state.captures}
        .points=${state.points}
        .supply=${state.supply}
        .nowMs=${state.session?.nowMs ?? 0}
        ?live=${live}
      ></rm-captures>`;
  }

  #part(chosen: ReadonlySet<string>): TemplateResult | typeof nothing {
    const { state, live, tracks } = this.shared;
    const block = supplyBlocks(state.supply, state.points).find(({ part }) => part === this.openPart);
    if (block === undefined) return nothing;
    return html`<rm-part
      .block=${block}
      .session=${state.session}
      .suspicion=${state.suspicion}
      .tracks=${tracks}
      .timeline=${this.#timeline}
      .marks=${state.marks}
      .chosen=${chosen}
      ?live=${live}
      ?simulated=${state.demo !== null}
    ></rm-part>`;
  }

  /** The probes that this page may say have been moved. */
  #channels(): readonly string[] {
    return this.shared.mayAct ? this.shared.state.channels : [];
  }

  #open(part: string): void {
    this.openPart = this.openPart === part ? null : part;
  }

  #about(): TemplateResult {
    const { state, live, mayAct, send } = this.shared;
    return html`<div class="about">
      <rm-instruments .instruments=${state.instruments} ?live=${live}></rm-instruments>
      <rm-record
        .recorder=${state.recorder}
        ?live=${live}
        ?mayAct=${mayAct}
        @rm-note=${(event: CustomEvent<string>) => send({ kind: 'note', text: event.detail })}
      ></rm-record>
      ${
        state.demo
          ? html`<rm-demo
              .demo=${state.demo}
              .speed=${state.session?.speed ?? 1}
              ?live=${live}
              ?mayAct=${mayAct}
              @rm-fault=${(event: CustomEvent<string>) => send({ kind: 'demo-fault', fault: event.detail })}
            ></rm-demo>`
          : nothing
      }
    </div>`;
  }

  #chosen(): ReadonlySet<string> {
    return this.byHand ?? firstChoice(this.shared.state.points);
  }

  #typed({ place: { instrument, channel, point, there }, text }: Typed): void {
    const { send } = this.shared;
    if (!there) send({ kind: 'probe', instrument, channel, point });
    send({ kind: 'typed', instrument, channel, text });
  }

  #choose(point: string): void {
    this.byHand = toggled(this.#chosen(), point);
    if (!this.byHand.has(point)) return;
    void this.updateComplete.then(async () => {
      const charts = this.renderRoot.querySelector('rm-charts');
      if (!(charts instanceof RmCharts)) return;
      await charts.updateComplete;
      charts.reveal(point);
    });
  }

  async #revealDemo(): Promise<void> {
    await this.updateComplete;
    const demo = this.renderRoot.querySelector('rm-demo');
    if (demo instanceof RmDemo) demo.reveal();
  }
}

customElements.define('rm-bench-view', RmBenchView);
