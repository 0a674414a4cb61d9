import { LitElement, css, html, type CSSResultGroup, type TemplateResult } from 'lit';
import { sharedStyles } from '../theme.js';

const NAME = 'railminder.welcomed';

/** What this page is, for somebody who sees it for the first time in this browser. */
export class RmWelcome extends LitElement {
  static override properties = { isRead: { state: true } };
  declare isRead: boolean;

  static override styles: CSSResultGroup = [
    sharedStyles,
    css`
      aside {
        display: flex;
        flex-wrap: wrap;
        align-items: center;
        gap: 0.5rem 1.5rem;
        padding: 0.7rem 1rem;
        border: 1px solid var(--edge);
        border-inline-start: 0.3rem solid var(--accent);
        border-radius: 0.5rem;
        background: var(--sheet);
      }
      p {
        flex: 1 1 24rem;
        max-width: 60rem;
      }
      @media print {
        aside {
          display: none;
        }
      }
    `,
  ];

  constructor() {
    super();
    this.isRead = wasRead();
  }

  protected override willUpdate(): void {
    this.hidden = this.isRead;
  }

  protected override render(): TemplateResult {
    return html`<aside aria-label="For a first visit">
      <p>
        The large line above says the worst thing now, or how far everything is from its limits. Further down
        stands the supply part by part, measured beside predicted; press the name of a test point for its
        chart. Turn the sound on, and you can keep your eyes on the circuit. <kbd>?</kbd> lists the keys.
      </p>
      <button class="button" @click=${() => this.#read()}>Got it</button>
    </aside>`;
  }

  #read(): void {
    this.isRead = true;
    try {
      window.localStorage.setItem(NAME, 'yes');
    } catch {
      // A browser that keeps nothing shows it again.
      return;
    }
  }
}

function wasRead(): boolean {
  try {
    return window.localStorage.getItem(NAME) !== null;
  } catch {
    return false;
  }
}

customElements.define('rm-welcome', RmWelcome);
