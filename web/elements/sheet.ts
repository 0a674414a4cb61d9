import { LitElement, css, type CSSResultGroup } from 'lit';
import { sharedStyles } from '../theme.js';

/** A sheet that lies over the page until it is closed; its element draws a `dialog`. */
export abstract class Sheet extends LitElement {
  static override styles: CSSResultGroup = [
    sharedStyles,
    css`
      dialog {
        max-width: min(30rem, calc(100vw - 2rem));
        padding: 1.2rem 1.4rem;
        border: 1px solid var(--control-edge);
        border-radius: 0.8rem;
        background: var(--sheet);
        color: var(--ink);
      }
      dialog::backdrop {
        background: rgb(10 14 18 / 55%);
      }
      label {
        display: flex;
        gap: 0.45rem;
        align-items: center;
        min-height: 2rem;
      }
      input {
        width: 1.2rem;
        height: 1.2rem;
        accent-color: var(--accent);
      }
    `,
  ];

  show(): void {
    const dialog = this.renderRoot.querySelector('dialog');
    if (dialog && !dialog.open) dialog.showModal();
  }
}
