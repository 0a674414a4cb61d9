import { LitElement, html, type CSSResultGroup, type PropertyValues, type TemplateResult } from 'lit';
import type { AlarmView, CutOffView } from '../../daemon/serve/messages.js';
import { awaitsAcknowledge, worstFirst } from '../alarm-order.js';
import { cutOffState } from '../cut-off-words.js';
import { keepUnits } from '../format.js';
import { temperatureUnit } from '../temperature-unit.js';
import { sharedStyles } from '../theme.js';
import { say } from '../voice.js';

/**
 * Live regions for screen readers: new alarms at once, the state of the link at the next pause. With `voice` the
 * browser says both as well, and where power was taken away, which stands on the bench only.
 */
export class RmAnnouncer extends LitElement {
  static override properties = {
    alarms: { attribute: false },
    cutOffs: { attribute: false },
    live: { type: Boolean },
    everLive: { type: Boolean },
    voice: { type: Boolean },
    announced: { state: true },
  };
  declare alarms: readonly AlarmView[];
  declare cutOffs: readonly CutOffView[];
  declare live: boolean;
  declare everLive: boolean;
  declare voice: boolean;
  declare announced: string;

  static override styles: CSSResultGroup = [sharedStyles];
  #told = new Set<string>();
  #dropped: readonly string[] = [];

  constructor() {
    super();
    this.announced = '';
  }

  protected override willUpdate(changed: PropertyValues): void {
    const raised = worstFirst(this.alarms).filter((alarm) => alarm.state === 'unacknowledged');
    const fresh = raised.filter((alarm) => !this.#told.has(alarm.id));
    this.#told = new Set(raised.map((alarm) => alarm.id));
    if (fresh.length > 0) this.announced = fresh.map(sayable).join(' ');
    // Emptied in between, so that the same alarm is read out again when it comes back.
    else if (raised.length === 0) this.announced = '';
    const before = this.#dropped;
    this.#dropped = this.cutOffs
      .filter(({ state }) => state === 'dropped')
      .map((cutOff) => `${cutOff.output}: ${cutOffState(cutOff)}`);
    // A browser without a voice has the tones and the words on the page.
    if (!this.voice) return;
    for (const alarm of fresh) {
      const waits = (): boolean => this.alarms.some((one) => one.id === alarm.id && awaitsAcknowledge(one));
      say(sayable(alarm), alarm.priority === 'high' ? 4 : 3, waits);
    }
    for (const words of this.#dropped) {
      if (!before.includes(words)) say(words, 4, () => this.#dropped.includes(words));
    }
    const { live } = this;
    if (changed.has('live') && !changed.has('everLive')) say(this.#link(), 3, () => this.live === live);
  }

  protected override render(): TemplateResult {
    return html`<div class="for-ears" role="alert">${this.announced}</div>
      <div class="for-ears" role="status">${this.#link()}</div>`;
  }

  #link(): string {
    return this.live ? 'Live.' : this.everLive ? 'Not live. The values shown are old.' : '';
  }
}

/** What is written to be spoken has its numbers in words, in degrees C. A voice pauses at a full stop alone. */
function sayable({ spoken, sentence }: AlarmView): string {
  const words = temperatureUnit() === 'C' ? spoken : keepUnits(sentence);
  return `Alarm: ${words}${words.endsWith('.') ? '' : '.'}`;
}

customElements.define('rm-announcer', RmAnnouncer);
