import { LitElement, css, html, nothing, type CSSResultGroup, type TemplateResult } from 'lit';
import { firstChoice, toggled } from '../chosen-points.js';
import type { Shelving } from '../elements/alarms.js';
import '../elements/alarms.js';
import { RmCharts, type WindowMinutes } from '../elements/charts.js';
import type { CutOffOrder } from '../elements/cut-off.js';
import '../elements/cut-off.js';
import { RmDemo } from '../elements/demo.js';
import '../elements/instruments.js';
import type { ProbeMove } from '../elements/probe.js';
import '../elements/record.js';
import '../elements/supply.js';
import '../elements/suspects.js';
import '../elements/typing.js';
import '../elements/welcome.js';
import type { Typed } from '../elements/typing.js';
import { sharedStyles } from '../theme.js';
import type { Shared, ViewCommand, ViewElement } from './view.js';

/** The running session: alarms, the supply with what is measured on it, charts, instruments, the record. */
export class RmBenchView extends LitElement implements ViewElement {
  static override properties = {
    shared: { attribute: false },
    byHand: { state: true },
    minutes: { state: true },
  };
  declare shared: Shared;
  /** The points chosen by a person; null while the first choice stands. */
  declare byHand: ReadonlySet<string> | null;
  declare minutes: WindowMinutes;

  static override styles: CSSResultGroup = [
    sharedStyles,
    css`
      .page {
        display: grid;
        gap: 2.2rem;
        padding: 1.3rem var(--side) 3rem;
      }
      .page > * {
        min-width: 0;
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
    this.minutes = 5;
  }

  obey(command: ViewCommand): void {
    if (command.kind === 'window') this.minutes = command.minutes;
    else void this.#revealDemo();
  }

  protected override render(): TemplateResult {
    return html`<div class="page" @rm-choose=${(event: CustomEvent<string>) => this.#choose(event.detail)}>
      ${this.#alarms()} ${this.#cutOff()} ${this.#suspects()}
      <rm-welcome></rm-welcome>
      ${this.#typing()} ${this.#supplyAndCharts()} ${this.#about()}
    </div>`;
  }

  #alarms(): TemplateResult {
    const { state, live, keysOn, send } = this.shared;
    return html`<rm-alarms
      .alarms=${state.alarms}
      ?live=${live}
      ?everLive=${state.heardAtWallMs !== null}
      ?keys=${keysOn}
      @rm-shelve=${(event: CustomEvent<Shelving>) => send({ kind: 'shelve', ...event.detail })}
    ></rm-alarms>`;
  }

  #cutOff(): TemplateResult | typeof nothing {
    const { state, live, send } = this.shared;
    if (state.cutOffs.length === 0) return nothing;
    return html`<rm-cut-off
      .cutOffs=${state.cutOffs}
      ?live=${live}
      @rm-cut-off=${(event: CustomEvent<CutOffOrder>) => send({ kind: 'cut-off', ...event.detail })}
    ></rm-cut-off>`;
  }

  #suspects(): TemplateResult {
    const { state, live } = this.shared;
    return html`<rm-suspects .suspicion=${state.suspicion} ?live=${live}></rm-suspects>`;
  }

  #typing(): TemplateResult | typeof nothing {
    const { state, live } = this.shared;
    if (state.typing.length === 0) return nothing;
    return html`<rm-typing
      .places=${state.typing}
      .points=${state.points}
      ?live=${live}
      @rm-typed=${(event: CustomEvent<Typed>) => this.#typed(event.detail)}
    ></rm-typing>`;
  }

  #supplyAndCharts(): TemplateResult {
    const { state, live, tracks, send } = this.shared;
    const chosen = this.#chosen();
    return html`<rm-supply
        .points=${state.points}
        .session=${state.session}
        ?live=${live}
        .chosen=${chosen}
        ?simulated=${state.demo !== null}
      ></rm-supply>
      <rm-charts
        .points=${state.points.filter((point) => chosen.has(point.id))}
        ?chosenByHand=${this.byHand !== null}
        .channels=${state.channels}
        .tracks=${tracks}
        .nowMs=${state.session?.nowMs ?? 0}
        .minutes=${this.minutes}
        ?live=${live}
        .leftOut=${state.leftOut}
        @rm-window=${(event: CustomEvent<WindowMinutes>) => (this.minutes = event.detail)}
        @rm-choose-again=${() => (this.byHand = null)}
        @rm-probe=${(event: CustomEvent<ProbeMove>) => send({ kind: 'probe', ...event.detail })}
      ></rm-charts>`;
  }

  #about(): TemplateResult {
    const { state, live, send } = this.shared;
    return html`<div class="about">
      <rm-instruments .instruments=${state.instruments} ?live=${live}></rm-instruments>
      <rm-record
        .recorder=${state.recorder}
        ?live=${live}
        @rm-note=${(event: CustomEvent<string>) => send({ kind: 'note', text: event.detail })}
      ></rm-record>
      ${
        state.demo
          ? html`<rm-demo
              .demo=${state.demo}
              .speed=${state.session?.speed ?? 1}
              ?live=${live}
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
