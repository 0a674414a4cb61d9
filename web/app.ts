// The views come first, in this order: what one of them alone uses lies beside it, where gzip finds what repeats.
import './views/job.js';
import './views/bench.js';
import './views/walk.js';
import './views/instruments.js';
import './views/design.js';
import { LitElement, css, html, nothing, type CSSResultGroup, type TemplateResult } from 'lit';
import type { PageMessage } from '../daemon/serve/messages.js';
import { topUnacknowledged } from './alarm-order.js';
import { browserLink } from './browser-link.js';
import { steadyForMs, steadyTolerance } from './chart/trend.js';
import './elements/alarm-strip.js';
import './elements/announcer.js';
import './elements/glance.js';
import type { FollowWish } from './elements/follow.js';
import './elements/keys.js';
import './elements/refusals.js';
import './elements/settings.js';
import { Sheet } from './elements/sheet.js';
import { RmTopLine } from './elements/top-line.js';
import './elements/views-line.js';
import './elements/walk-voice.js';
import { glanceLine } from './glance-line.js';
import { HandsFree } from './hands-free.js';
import { keepPlace } from './keep-place.js';
import { keyCommand, type KeyCommand } from './key-commands.js';
import { readKeySetting, writeKeySetting } from './key-setting.js';
import { LiveLink } from './live.js';
import { applyLook } from './look.js';
import { judged } from './looks-off.js';
import { Notices } from './notice.js';
import { pageIcon, showIcon } from './page-icon.js';
import { pageTitle } from './page-title.js';
import { readPreferences, writePreferences, type Preferences } from './preferences.js';
import type { PageState } from './session-state.js';
import { ShownView } from './shown-view.js';
import { AlarmSound } from './sound.js';
import { sharedStyles } from './theme.js';
import { say } from './voice.js';
import { VIEWS } from './views/registry.js';

/** The page: joins the link, the sound, what stands on every view, and the view that is shown. */
export class RmApp extends LitElement {
  static override properties = {
    keysOn: { state: true },
    preferences: { state: true },
  };
  declare keysOn: boolean;
  declare preferences: Preferences;

  static override styles: CSSResultGroup = [
    sharedStyles,
    css`
      :host {
        --side: clamp(0.9rem, 2.2vw, 2.5rem);
      }
      .pinned {
        position: sticky;
        z-index: 5;
        top: 0;
      }
      /* Nothing else would be seen. */
      @media (max-height: 18rem) {
        .pinned {
          position: static;
        }
      }
      .refusals {
        padding: 1.3rem var(--side) 0;
      }
      .view:focus {
        outline: none;
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
  #notices = new Notices();
  #handsFree = new HandsFree({
    send: (message) => this.#send(message),
    say: (words, holds) => say(words, 0, holds),
    tone: (standing) => {
      if (standing === 'inside' || standing === 'doubtful') this.#sound.verdict(standing);
      else if (standing === 'outside' || standing === 'overload') this.#sound.verdict('outside');
    },
  });
  #view = new ShownView((byPerson) => this.#viewChanged(byPerson));
  #onKey = (event: KeyboardEvent): void => this.#key(event);
  /** From what the last key was pressed on outwards; empty after a press. */
  #place: readonly EventTarget[] = [];
  #keepPlace = (): void => void (this.#place = keepPlace(this.#place));
  #onGesture = (event: Event): void => {
    this.#place = [];
    if (!fromTopLine(event)) void this.#gesture();
  };

  /** Made anew each time: ask once for all that is drawn. */
  get #state(): PageState {
    return judged(this.#link.state);
  }

  constructor() {
    super();
    this.keysOn = readKeySetting();
    this.preferences = readPreferences();
    this.#sound.level = this.preferences.toneLevel;
  }

  override connectedCallback(): void {
    super.connectedCallback();
    window.addEventListener('keydown', this.#onKey);
    window.addEventListener('keyup', this.#keepPlace);
    window.addEventListener('pointerup', this.#onGesture, { capture: true });
    this.#view.start();
    this.#link.start();
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    window.removeEventListener('keydown', this.#onKey);
    window.removeEventListener('keyup', this.#keepPlace);
    window.removeEventListener('pointerup', this.#onGesture, { capture: true });
    this.#view.stop();
    this.#link.stop();
    this.#sound.play(null);
  }

  protected override updated(): void {
    // What lies further in is drawn by then.
    setTimeout(this.#keepPlace);
  }

  protected override render(): TemplateResult {
    const state = this.#state;
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
        @rm-settings=${() => this.#showSheet('rm-settings')}
        @rm-keys=${() => this.#showSheet('rm-keys')}
      ></rm-top-line>
      ${VIEWS.length > 1 ? html`<rm-views-line .shown=${this.#view.entry.name}></rm-views-line>` : nothing}
      <main
        @rm-acknowledge=${(event: CustomEvent<string>) => this.#acknowledge(event.detail)}
        @rm-follow=${(event: CustomEvent<FollowWish>) => this.#follow(event.detail)}
      >
        ${this.#strip(state)} ${this.#onlyLooks(state)} ${this.#always(state, live)} ${this.#refusals(state)}
        <div class="view" role="region" tabindex="-1" aria-label=${this.#view.entry.title}>
          ${this.#shownView(state, live)}
        </div>
      </main>
      <rm-announcer
        .alarms=${state.alarms}
        .cutOffs=${state.cutOffs}
        ?live=${live}
        ?everLive=${state.heardAtWallMs !== null}
        ?voice=${this.preferences.voice === 'on'}
      ></rm-announcer>
      <rm-walk-voice .procedure=${state.procedure} ?voice=${this.preferences.voice === 'on'}></rm-walk-voice>
      <rm-settings
        .preferences=${this.preferences}
        @rm-preferences=${(event: CustomEvent<Preferences>) => this.#prefer(event.detail)}
      ></rm-settings>
      <rm-keys
        ?on=${this.keysOn}
        ?mayAct=${mayAct(state)}
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
      ${
        this.#onFirstView() && mayAct(state)
          ? html`<a href="#demo" @click=${(event: Event) => this.#toDemo(event)}>Switch a fault in</a>`
          : nothing
      }
    </p>`;
  }

  #onlyLooks(state: PageState): TemplateResult | typeof nothing {
    if (mayAct(state)) return nothing;
    return html`<p class="strip">
      View only: you see and hear everything here; whoever is at the bench acknowledges, switches and writes.
    </p>`;
  }

  /** What a person must see whatever else they look at; on the first view in full size. */
  #always(state: PageState, live: boolean): TemplateResult {
    const small = !this.#onFirstView();
    const glance = glanceLine({
      state,
      wallMs: this.#link.wallMs,
      steadyMs: (point) => steadyForMs(this.#link.tracks.of(point.id), steadyTolerance(point)),
    });
    return html`<div class="always ${small ? 'pinned' : ''}">
      <rm-glance .glance=${glance} ?compact=${small}></rm-glance>
      ${small ? html`<rm-alarm-strip .alarms=${state.alarms} ?live=${live} ?mayAct=${mayAct(state)}></rm-alarm-strip>` : nothing}
    </div>`;
  }

  #refusals({ refusals }: PageState): TemplateResult | typeof nothing {
    if (refusals.length === 0) return nothing;
    return html`<rm-refusals
      class="refusals"
      .refusals=${refusals}
      @rm-refusals-read=${() => this.#link.putRefusalsAway()}
    ></rm-refusals>`;
  }

  #shownView(state: PageState, live: boolean): HTMLElement {
    const { element } = this.#view;
    element.shared = {
      state,
      live,
      mayAct: mayAct(state),
      tracks: this.#link.tracks,
      preferences: this.preferences,
      keysOn: this.keysOn,
      handsFree: this.#handsFree,
      send: (message) => this.#link.send(message),
    };
    return element;
  }

  #onFirstView(): boolean {
    return this.#view.entry === VIEWS[0];
  }

  #viewChanged(byPerson: boolean): void {
    this.#changed();
    if (!byPerson) return;
    window.scrollTo({ top: 0 });
    void this.updateComplete.then(() => this.renderRoot.querySelector<HTMLElement>('.view')?.focus());
  }

  #changed(): void {
    const state = this.#state;
    const { readings, voice } = this.preferences;
    this.#handsFree.update(state, readings === 'on', voice === 'on');
    this.#notices.update(state.alarms);
    showIcon(pageIcon(state));
    document.title = pageTitle(state, this.#onFirstView() ? '' : this.#view.entry.title);
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

  #key(event: KeyboardEvent): void {
    this.#place = event.composedPath();
    const command = this.keysOn ? keyCommand(event, this.#handsFree.round !== null) : null;
    if (command?.kind !== 'sound' && !fromTopLine(event)) void this.#gesture();
    if (!command) return;
    event.preventDefault();
    this.#run(command);
  }

  #run(command: KeyCommand): void {
    switch (command.kind) {
      case 'acknowledge': {
        const { state } = this.#link;
        const alarm = topUnacknowledged(state.alarms);
        if (alarm && mayAct(state)) this.#acknowledge(alarm.id);
        return;
      }
      case 'sound':
        return this.#toggleSound();
      case 'test-tone':
        return void this.#testTone();
      case 'speak':
        return this.#prefer({
          ...this.preferences,
          readings: this.preferences.readings === 'on' ? 'off' : 'on',
        });
      case 'follow':
        return this.#follow({ kind: command.wish });
      case 'settings':
        return this.#showSheet('rm-settings');
      case 'keys':
        return this.#showSheet('rm-keys');
      case 'view':
        return this.#view.go(command.view);
      case 'window':
      case 'time':
        this.#view.element.obey?.(command);
    }
  }

  #follow(wish: FollowWish): void {
    if (wish.kind === 'start') this.#handsFree.start(wish.channel);
    else this.#handsFree[wish.kind]();
    this.requestUpdate();
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

  #showSheet(tag: 'rm-keys' | 'rm-settings'): void {
    const sheet = this.renderRoot.querySelector(tag);
    if (sheet instanceof Sheet) sheet.show();
  }

  #switchKeys(on: boolean): void {
    this.keysOn = on;
    writeKeySetting(on);
  }

  #prefer(preferences: Preferences): void {
    this.preferences = preferences;
    this.#sound.level = preferences.toneLevel;
    writePreferences(preferences);
    applyLook(preferences);
  }

  #toDemo(event: Event): void {
    event.preventDefault();
    this.#view.element.obey?.({ kind: 'reveal-demo' });
  }
}

/** Before anything was heard nothing can be sent anyway. */
function mayAct({ session }: PageState): boolean {
  return session?.mayAct !== false;
}

/** The sound buttons open the sound by themselves; doing it twice would mute it at once. */
function fromTopLine(event: Event): boolean {
  return event.composedPath().some((target) => target instanceof RmTopLine);
}

customElements.define('rm-app', RmApp);
