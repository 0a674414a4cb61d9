import { css, html, type CSSResultGroup, type TemplateResult } from 'lit';
import { askForNotices, noticeState } from '../notice.js';
import { PREFERENCE_CHOICES, type Preferences } from '../preferences.js';
import { Sheet } from './sheet.js';
import { tell } from '../tell.js';
import { hasVoice, say } from '../voice.js';

type Key = keyof Preferences;

const TITLES: Readonly<Record<Key, string>> = {
  temperature: 'Temperatures in',
  theme: 'Colours',
  textSize: 'Text size',
  toneLevel: 'Alarm tones',
  voice: 'Read alarms and steps out',
  readings: 'Speak readings when they settle',
  mains: 'A new design starts with',
};

const WORDS: { readonly [K in Key]: Readonly<Record<Preferences[K], string>> } = {
  temperature: { C: '°C', F: '°F' },
  theme: { system: 'as the system', light: 'light', dark: 'dark' },
  textSize: { usual: 'usual', large: 'large', largest: 'largest' },
  toneLevel: { usual: 'usual', soft: 'soft', loud: 'loud' },
  voice: { off: 'no', on: 'yes' },
  readings: { off: 'no', on: 'yes' },
  mains: { 230: '230 V, 50 Hz', 120: '120 V, 60 Hz' },
};

/** What a person chooses for this browser (`rm-preferences` with all of it). */
export class RmSettings extends Sheet {
  static override properties = { preferences: { attribute: false } };
  declare preferences: Preferences;

  static override styles: CSSResultGroup = [
    Sheet.styles,
    css`
      dialog {
        width: 100%;
      }
      fieldset {
        display: flex;
        flex-wrap: wrap;
        gap: 0.1rem 1.1rem;
        margin: 0.9rem 0 0;
        padding: 0;
        border: 0;
      }
      legend {
        padding: 0;
        font-weight: 600;
      }
      .small {
        margin: 0.9rem 0;
      }
    `,
  ];

  protected override render(): TemplateResult {
    return html`<dialog aria-labelledby="title">
      <h2 id="title">Settings</h2>
      ${(Object.keys(TITLES) as Key[]).map((key) => this.#choice(key))} ${this.#notices()}
      <p class="small" role="status">${this.#noVoice()}</p>
      <p class="small quiet">Kept in this browser only. A phone has its own.</p>
      <form method="dialog"><button class="button strong">Close</button></form>
    </dialog>`;
  }

  #notices(): TemplateResult {
    const state = noticeState();
    const words = {
      on: 'Alarms are told by the browser while this tab is in the background.',
      off: 'Let the browser tell of alarms while this tab is in the background:',
      refused: 'This browser was told not to tell of alarms; its own settings can change that.',
      never: 'This browser can’t tell of alarms while this tab is in the background.',
    }[state];
    return html`<p class="small">
      ${words}
      ${
        state === 'off'
          ? html`<button class="button" @click=${() => void askForNotices().then(() => this.requestUpdate())}>
              Ask the browser
            </button>`
          : ''
      }
    </p>`;
  }

  #noVoice(): string {
    const { voice, readings } = this.preferences;
    const wanted = voice === 'on' || readings === 'on';
    return wanted && !hasVoice() ? 'This browser has no voice: nothing is spoken, there are tones only.' : '';
  }

  #choice<K extends Key>(key: K): TemplateResult {
    const choices: readonly Preferences[K][] = PREFERENCE_CHOICES[key];
    return html`<fieldset>
      <legend>${TITLES[key]}</legend>
      ${choices.map(
        (choice) =>
          html`<label>
            <input
              type="radio"
              name=${key}
              .checked=${this.preferences[key] === choice}
              @change=${() => this.#choose({ [key]: choice })}
            />
            ${WORDS[key][choice]}
          </label>`,
      )}
    </fieldset>`;
  }

  #choose(chosen: Partial<Preferences>): void {
    const detail: Preferences = { ...this.preferences, ...chosen };
    tell(this, 'rm-preferences', detail);
    // Some browsers let a page speak only after it has done so while a press is handled.
    if (chosen.voice === 'on') say('Alarms and steps are read out.');
  }
}

customElements.define('rm-settings', RmSettings);
