import { LitElement, css, html, nothing, type CSSResultGroup, type TemplateResult } from 'lit';
import { sharedStyles } from '../theme.js';
import { VIEWS } from '../views/registry.js';

/** The way from view to view. Each is a link, so that it can be kept, shared and opened beside another. */
export class RmViewsLine extends LitElement {
  static override properties = { shown: { attribute: false } };
  /** The name of the view that is shown. */
  declare shown: string;

  static override styles: CSSResultGroup = [
    sharedStyles,
    css`
      ul {
        display: flex;
        flex-wrap: wrap;
        gap: 0 clamp(0.9rem, 2.5vw, 1.8rem);
        padding-inline: var(--side);
      }
      a {
        display: block;
        padding: 0.25rem 0.1rem 0.4rem;
        border-bottom: 3px solid transparent;
        color: var(--quiet);
        font-weight: 600;
        text-decoration: none;
      }
      a:hover {
        color: var(--ink);
      }
      a[aria-current] {
        color: var(--ink);
        border-color: var(--accent);
      }
      @media print {
        nav {
          display: none;
        }
      }
    `,
  ];

  protected override render(): TemplateResult {
    return html`<nav aria-label="Views">
      <ul>
        ${VIEWS.map(
          ({ name, title }) =>
            html`<li>
              <a href="#/${name}" aria-current=${name === this.shown ? 'page' : nothing}>${title}</a>
            </li>`,
        )}
      </ul>
    </nav>`;
  }
}

customElements.define('rm-views-line', RmViewsLine);
