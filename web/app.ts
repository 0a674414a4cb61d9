import { LitElement, css, html, nothing, type CSSResultGroup, type TemplateResult } from 'lit';
import type { PageMessage } from '../daemon/serve/messages.js';
import { topUnacknowledged } from './alarm-order.js';
import { browserLink } from './browser-link.js';
import { steadyForMs, steadyTolerance } from './chart/trend.js';
import { firstChoice, toggled } from './chosen-points.js';
import type { Shelving } from './elements/alarms.js';
import './elements/alarms.js';
import type { CutOffOrder } from './elements/cut-off.js';
import './elements/cut-off.js';
import './elements/announcer.js';
import { RmCharts, type WindowMinutes } from './elements/charts.js';
import { RmDemo } from './elements/demo.js';
import './elements/glance.js';
import './elements/instruments.js';
import { RmKeys } from './elements/keys.js';
import type { ProbeMove } from './elements/probe.js';
import './elements/record.js';
import './elements/refusals.js';
import './elements/supply.js';
import './elements/typing.js';
import type { Typed } from './elements/typing.js';
import { RmTopLine } from './elements/top-line.js';
import { glanceLine } from './glance-line.js';
import { keyCommand, type KeyCommand } from './key-commands.js';
import { readKeySetting, writeKeySetting } from './key-setting.js';
import { LiveLink } from './live.js';
import { pageTitle } from './page-title.js';
import type { PageState } from './session-state.js';
import { AlarmSound } from './sound.js';
import { sharedStyles } from './theme.js';

/** The page: joins the link, the sound and the elements. */
export class RmApp extends LitElement {
  static override properties = {
    byHand: { state: true },
    minutes: { state: true },
    keysOn: { state: true },
  };
  /** The points chosen by a person; null while the first choice stands. */
  declare byHand: ReadonlySet<string> | null;
  declare minutes: WindowMinutes;
  declare keysOn: boolean;

  static override styles: CSSResultGroup = [
    sharedStyles,
    css`
      :host {
        --side: clamp(0.9rem, 2.2vw, 2.5rem);
      }
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
      .strip {
        display: flex;
        flex-wrap: wrap;
        justify-content: space-between;
        gap: 0 1.5rem;
        padding: 0.45rem var(--side);
        background: var(--wash);
        font-size: 0.9375rem;
      }
      .strip a {
        color: var(--accent);
        font-weight: 600;
        padding-block: 0.15rem;
      }
    `,
  ];

  #link = new LiveLink(browserLink, () => this.#changed());
  #sound = new AlarmSound();
  #onKey = (event: KeyboardEvent): void => this.#key(event);
  #onGesture = (event: Event): void => {
    if (!fromTopLine(event)) void this.#gesture();
  };

  constructor() {
    super();
    this.byHand = null;
    this.minutes = 5;
    this.keysOn = readKeySetting();
  }

  override connectedCallback(): void {
    super.connectedCallback();
    window.addEventListener('keydown', this.#onKey);
    window.addEventListener('pointerup', this.#onGesture, { capture: true });
    this.#link.start();
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    window.removeEventListener('keydown', this.#onKey);
    window.removeEventListener('pointerup', this.#onGesture, { capture: true });
    this.#link.stop();
    this.#sound.play(null);
  }

  protected override render(): TemplateResult {
    const state = this.#link.state;
    const live = state.link.kind === 'live';
    return html`
      <rm-top-line
        .session=${state.session}
        .recorder=${state.recorder}
        ?live=${live}
        .sound=${this.#sound.state}
        ?sounding=${this.#sound.playing !== null}
        @rm-sound-toggle=${() => this.#toggleSound()}
        @rm-sound-test=${() => void this.#testTone()}
        @rm-keys=${() => this.#showKeys()}
      ></rm-top-line>
      <main
        @rm-acknowledge=${(event: CustomEvent<string>) => this.#acknowledge(event.detail)}
        @rm-choose=${(event: CustomEvent<string>) => this.#choose(event.detail)}
      >
        ${this.#strip(state)} ${this.#glance(state)}
        <div class="page">
          ${this.#alarms(state, live)} ${this.#typing(state, live)} ${this.#supplyAndCharts(state, live)}
          ${this.#about(state, live)}
        </div>
      </main>
      <rm-announcer
        .alarms=${state.alarms}
        ?live=${live}
        ?everLive=${state.heardAtWallMs !== null}
      ></rm-announcer>
      <rm-keys
        ?on=${this.keysOn}
        @rm-keys-switch=${(event: CustomEvent<boolean>) => this.#switchKeys(event.detail)}
      ></rm-keys>
    `;
  }

  #strip(state: PageState): TemplateResult | typeof nothing {
    if (!state.session) return nothing;
    if (!state.demo) {
      return html`<p class="strip">
        Mains kills, and a hot part burns. Follow your local code; ask a licensed person when unsure. This
        page watches; it doesn’t protect.
      </p>`;
    }
    return html`<p class="strip">
      <span>Simulated supply: no mains, no heat, nothing here is real.</span>
      <a href="#demo" @click=${(event: Event) => this.#toDemo(event)}>Switch a fault in</a>
    </p>`;
  }

  #glance(state: PageState): TemplateResult {
    const glance = glanceLine({
      state,
      wallMs: this.#link.wallMs,
      steadyMs: (point) => steadyForMs(this.#link.tracks.of(point.id), steadyTolerance(point)),
    });
    return html`<rm-glance .glance=${glance}></rm-glance>`;
  }

  #alarms(state: PageState, live: boolean): TemplateResult {
    return html`${
        state.refusals.length > 0
          ? html`<rm-refusals
              .refusals=${state.refusals}
              @rm-refusals-read=${() => this.#link.putRefusalsAway()}
            ></rm-refusals>`
          : nothing
      }
      <rm-alarms
        .alarms=${state.alarms}
        ?live=${live}
        ?everLive=${state.heardAtWallMs !== null}
        ?keys=${this.keysOn}
        @rm-shelve=${(event: CustomEvent<Shelving>) => this.#send({ kind: 'shelve', ...event.detail })}
      ></rm-alarms>
      ${
        state.cutOffs.length > 0
          ? html`<rm-cut-off
              .cutOffs=${state.cutOffs}
              ?live=${live}
              @rm-cut-off=${(event: CustomEvent<CutOffOrder>) => this.#send({ kind: 'cut-off', ...event.detail })}
            ></rm-cut-off>`
          : nothing
      }`;
  }

  #typing(state: PageState, live: boolean): TemplateResult | typeof nothing {
    if (state.typing.length === 0) return nothing;
    return html`<rm-typing
      .places=${state.typing}
      .points=${state.points}
      ?live=${live}
      @rm-typed=${(event: CustomEvent<Typed>) => this.#typed(event.detail)}
    ></rm-typing>`;
  }

  #supplyAndCharts(state: PageState, live: boolean): TemplateResult {
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
        .tracks=${this.#link.tracks}
        .nowMs=${state.session?.nowMs ?? 0}
        .minutes=${this.minutes}
        ?live=${live}
        .leftOut=${state.leftOut}
        @rm-window=${(event: CustomEvent<WindowMinutes>) => (this.minutes = event.detail)}
        @rm-choose-again=${() => (this.byHand = null)}
        @rm-probe=${(event: CustomEvent<ProbeMove>) => this.#send({ kind: 'probe', ...event.detail })}
      ></rm-charts>`;
  }

  #about(state: PageState, live: boolean): TemplateResult {
    return html`<div class="about">
      <rm-instruments .instruments=${state.instruments} ?live=${live}></rm-instruments>
      <rm-record
        .recorder=${state.recorder}
        ?live=${live}
        @rm-note=${(event: CustomEvent<string>) => this.#send({ kind: 'note', text: event.detail })}
      ></rm-record>
      ${
        state.demo
          ? html`<rm-demo
              .demo=${state.demo}
              .speed=${state.session?.speed ?? 1}
              ?live=${live}
              @rm-fault=${(event: CustomEvent<string>) =>
                this.#send({ kind: 'demo-fault', fault: event.detail })}
            ></rm-demo>`
          : nothing
      }
    </div>`;
  }

  #chosen(): ReadonlySet<string> {
    return this.byHand ?? firstChoice(this.#link.state.points);
  }

  #changed(): void {
    const { state } = this.#link;
    document.title = pageTitle(state);
    const lost = state.link.kind !== 'live' && state.heardAtWallMs !== null;
    this.#sound.play(lost ? 'not-live' : (topUnacknowledged(state.alarms)?.priority ?? null));
    this.requestUpdate();
  }

  #send(message: PageMessage): void {
    this.#link.send(message);
  }

  #acknowledge(alarm: string): void {
    this.#send({ kind: 'acknowledge', alarm });
  }

  #typed({ place: { instrument, channel, point, there }, text }: Typed): void {
    if (!there) this.#send({ kind: 'probe', instrument, channel, point });
    this.#send({ kind: 'typed', instrument, channel, text });
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

  #key(event: KeyboardEvent): void {
    const command = this.keysOn ? keyCommand(event) : null;
    if (command?.kind !== 'sound' && !fromTopLine(event)) void this.#gesture();
    if (!command) return;
    event.preventDefault();
    this.#run(command);
  }

  #run(command: KeyCommand): void {
    switch (command.kind) {
      case 'acknowledge': {
        const alarm = topUnacknowledged(this.#link.state.alarms);
        if (alarm) this.#acknowledge(alarm.id);
        return;
      }
      case 'sound':
        return this.#toggleSound();
      case 'test-tone':
        return void this.#testTone();
      case 'keys':
        return this.#showKeys();
      case 'window':
        this.minutes = command.minutes;
    }
  }

  /** The first key or press anywhere lets the browser open the sound. */
  async #gesture(): Promise<void> {
    if (this.#sound.state !== 'off') return;
    await this.#sound.enable();
    this.requestUpdate();
  }

  #toggleSound(): void {
    if (this.#sound.state === 'off') void this.#gesture();
    else this.#sound.mute(this.#sound.state === 'on');
    this.requestUpdate();
  }

  async #testTone(): Promise<void> {
    await this.#gesture();
    this.#sound.test();
  }

  #showKeys(): void {
    const keys = this.renderRoot.querySelector('rm-keys');
    if (keys instanceof RmKeys) keys.show();
  }

  #switchKeys(on: boolean): void {
    this.keysOn = on;
    writeKeySetting(on);
  }

  #toDemo(event: Event): void {
    event.preventDefault();
    const demo = this.renderRoot.querySelector('rm-demo');
    if (demo instanceof RmDemo) demo.reveal();
  }
}

/** The sound buttons open the sound by themselves; doing it twice would mute it at once. */
function fromTopLine(event: Event): boolean {
  return event.composedPath().some((target) => target instanceof RmTopLine);
}

customElements.define('rm-app', RmApp);
