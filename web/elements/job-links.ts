import { LitElement, css, html, type CSSResultGroup, type TemplateResult } from 'lit';
import { jobAddress } from '../job/ask-job.js';
import { sharedStyles } from '../theme.js';

const TABLES = [
  ['columns', 'One column a test point, one line a second'],
  ['readings', 'Every reading, as recorded'],
  ['extremes', 'Lowest, mean and highest over 600 stretches'],
  ['captures', 'Every sample of every waveform'],
] as const;

/** What can be taken along of a recording: the report to print, and tables for a spreadsheet. */
export class RmJobLinks extends LitElement {
  static override properties = { file: { attribute: false } };
  declare file: string;

  static override styles: CSSResultGroup = [
    sharedStyles,
    css`
      ul {
        display: grid;
        gap: 0.2rem;
        margin: 0.4rem 0 0.8rem;
      }
      a {
        display: inline-block;
        padding-block: 0.25rem;
        color: var(--accent);
        text-underline-offset: 0.15em;
      }
    `,
  ];

  protected override render(): TemplateResult {
    const recording = this.file;
    return html`<h3>For the job file</h3>
      <ul>
        <li>
          <a href=${jobAddress('report', { recording })} target="_blank" rel="noopener"
            >Report of this session, to print and sign</a
          >
        </li>
      </ul>
      <h3>Tables (CSV)</h3>
      <ul>
        ${TABLES.map(
          ([form, words]) =>
            html`<li><a href=${jobAddress('csv', { recording, form })} download>${words}</a></li>`,
        )}
      </ul>`;
  }
}

customElements.define('rm-job-links', RmJobLinks);
