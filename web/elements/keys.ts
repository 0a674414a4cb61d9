import { css, html, nothing, type CSSResultGroup, type TemplateResult } from 'lit';
import { Sheet } from './sheet.js';
import { VIEWS } from '../views/registry.js';
import { tell } from '../tell.js';

/** The keys of every view; `acts`: of nobody who only looks. */
const KEYS: readonly (readonly [key: string, what: string, acts?: 'acts'])[] = [
  ['a', 'acknowledge the worst alarm that waits', 'acts'],
  ['s', 'turn the sound on, mute it, unmute it'],
  ['t', 'play the test tone'],
  ['1 5 9 6', 'show the last minute, 5 minutes, 15 minutes, the last hour'],
  ['0', 'show the whole session'],
  [', .', 'go to earlier, to later'],
  ['+ -', 'zoom in and out'],
  ['v', 'speak readings when they settle, or stop that'],
  ['Enter Space PgDn → ↓', 'while a probe is followed: next, or yes', 'acts'],
  ['PgUp ← ↑', 'while a probe is followed: back, or no', 'acts'],
  ['Esc', 'follow the probe no longer', 'acts'],
  ['p', 'set units, theme, text size, sound and voice'],
  ['?', 'show these keys'],
  ...VIEWS.map(({ key, title }) => [key, `go to ${title}`] as const),
];

/** The list of keys, and the switch that turns them off (`rm-keys-switch` with true or false). */
export class RmKeys extends Sheet {
  static override properties = { on: { type: Boolean }, mayAct: { type: Boolean } };
  declare on: boolean;
  declare mayAct: boolean;

  static override styles: CSSResultGroup = [
    Sheet.styles,
    css`
      dl {
        display: grid;
        grid-template-columns: auto 1fr;
        gap: 0.4rem 1rem;
        margin: 0.9rem 0;
      }
      label {
        gap: 0.6rem;
        margin-bottom: 0.9rem;
      }
    `,
  ];

  protected override render(): TemplateResult {
    return html`<dialog aria-labelledby="title">
      <h2 id="title">Keys</h2>
      <dl>${KEYS.filter(([, , acts]) => this.mayAct || !acts).map(keyLine)}</dl>
      ${VIEWS.map(({ title, ownKeys }) =>
        ownKeys && this.mayAct
          ? html`<h3>On ${title}</h3>
              <dl>${ownKeys.map(keyLine)}</dl>`
          : nothing,
      )}
      <label>
        <input type="checkbox" .checked=${this.on} @change=${(event: Event) => this.#switch(event)} />
        Single keys do this (turn off if you speak to your computer)
      </label>
      <form method="dialog"><button class="button strong" autofocus>Close</button></form>
    </dialog>`;
  }

  #switch(event: Event): void {
    const detail = (event.target as HTMLInputElement).checked;
    tell(this, 'rm-keys-switch', detail);
  }
}

function keyLine([key, what]: readonly [string, string, string?]): TemplateResult {
  return html`<dt><kbd>${key}</kbd></dt>
    <dd>${what}</dd>`;
}

customElements.define('rm-keys', RmKeys);
