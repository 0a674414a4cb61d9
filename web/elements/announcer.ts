import { LitElement, html, type CSSResultGroup, type TemplateResult } from 'lit';
import type { AlarmView } from '../../daemon/serve/messages.js';
import { keepUnits } from '../format.js';
import { temperatureUnit } from '../temperature-unit.js';
import { sharedStyles } from '../theme.js';
import { say } from '../voice.js';

/**
 * Live regions for screen readers: new alarms at once, the state of the link at the next pause. With `voice` the
 * browser reads the alarms out as well.
 */
export class RmAnnouncer extends LitElement {
  static override properties = {
    alarms: { attribute: false },
    live: { type: Boolean },
    everLive: { type: Boolean },
    voice: { type: Boolean },
    announced: { state: true },
  };
  declare alarms: readonly AlarmView[];
  declare live: boolean;
  declare everLive: boolean;
  declare voice: boolean;
  declare announced: string;

  static override styles: CSSResultGroup = [sharedStyles];
  #told = new Set<string>();

  constructor() {
    super();
    this.announced = '';
  }

  protected override willUpdate(): void {
    const raised = this.alarms.filter((alarm) => alarm.state === 'unacknowledged');
    const fresh = raised.filter((alarm) => !this.#told.has(alarm.id));
    if (fresh.length > 0) this.#announce(fresh.map((alarm) => `Alarm: ${sayable(alarm)}`).join(' '));
    // Emptied in between, so that the same alarm is read out again when it comes back.
    else if (raised.length === 0) this.announced = '';
    this.#told = new Set(raised.map((alarm) => alarm.id));
  }

  #announce(words: string): void {
    this.announced = words;
    // A browser without a voice has the tones and the words on the page.
    if (this.voice) say(words, true);
  }

  protected override render(): TemplateResult {
    const link = this.live ? 'Live.' : this.everLive ? 'Not live. The values shown are old.' : '';
    return html`<div class="for-ears" role="alert">${this.announced}</div>
      <div class="for-ears" role="status">${link}</div>`;
  }
}

/** What is written to be spoken has its numbers in words, in degrees C. A voice pauses at a full stop alone. */
function sayable({ spoken, sentence }: AlarmView): string {
  const words = temperatureUnit() === 'C' ? spoken : keepUnits(sentence);
  return words.endsWith('.') ? words : `${words}.`;
}

customElements.define('rm-announcer', RmAnnouncer);
