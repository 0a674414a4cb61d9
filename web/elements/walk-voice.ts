import { LitElement, html, type CSSResultGroup, type PropertyValues, type TemplateResult } from 'lit';
import type { ProcedureView } from '../../daemon/serve/messages.js';
import { sharedStyles } from '../theme.js';
import { say } from '../voice.js';
import { currentStep } from '../walk/step-words.js';
import { walkNews, type WalkNews } from '../walk/walk-news.js';

/** Tells screen readers what happens in the power-up, on every view; with `voice` the browser says it as well. */
export class RmWalkVoice extends LitElement {
  static override properties = {
    procedure: { attribute: false },
    voice: { type: Boolean },
    news: { state: true },
  };
  declare procedure: ProcedureView | null;
  declare voice: boolean;
  declare news: WalkNews | null;

  static override styles: CSSResultGroup = [sharedStyles];
  #told: ProcedureView | null = null;

  constructor() {
    super();
    this.news = null;
  }

  protected override willUpdate(changed: PropertyValues): void {
    if (!changed.has('procedure')) return;
    const news = walkNews(this.#told, this.procedure);
    this.#told = this.procedure;
    if (news === null) return;
    this.news = news;
    // A browser without a voice has the words on the page.
    if (this.voice) this.#say(news);
  }

  /** Sentence by sentence: what was cut off is said again, and what belongs to a step that is over or failed isn't. */
  #say({ words, more, urgent }: WalkNews): void {
    const { procedure: then } = this;
    const holds = (): boolean => {
      const now = this.procedure;
      if (now === null || now.current !== then?.current || now.ended !== then.ended) return false;
      return urgent || currentStep(now)?.status !== 'failed';
    };
    for (const sentence of [words, ...more].join(' ').split(/(?<=[.?!]) /))
      say(sentence, urgent ? 2 : 1, holds);
  }

  protected override render(): TemplateResult {
    const { words = '', urgent = false } = this.news ?? {};
    return html`<div class="for-ears" role="alert">${urgent ? words : ''}</div>
      <div class="for-ears" role="status">${urgent ? '' : words}</div>`;
  }
}

customElements.define('rm-walk-voice', RmWalkVoice);
