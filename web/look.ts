import { LitElement } from 'lit';
import type { Preferences } from './preferences.js';
import { showTemperaturesIn } from './temperature-unit.js';

/** Told to the window after the look changed, for what isn't drawn by the browser itself. */
export const LOOK_CHANGED = 'rm-look';

const DARK = 'screen and (forced-colors: none)';

/** Puts theme, text size and the unit of temperatures on the whole page. */
export function applyLook({ theme, textSize, temperature }: Preferences): void {
  const { documentElement } = document;
  documentElement.dataset['text'] = textSize;
  documentElement.style.colorScheme = theme === 'system' ? '' : theme;
  const sheet = document.querySelector<HTMLLinkElement>('link[data-dark]');
  if (sheet) sheet.media = darkMedia(theme);
  showTemperaturesIn(temperature);
  drawAgain(document);
  window.dispatchEvent(new Event(LOOK_CHANGED));
}

/** When the dark sheet counts. */
function darkMedia(theme: Preferences['theme']): string {
  if (theme === 'light') return 'not all';
  return theme === 'dark' ? DARK : `${DARK} and (prefers-color-scheme: dark)`;
}

/** Elements draw when their data changes; a unit is none of their data. */
function drawAgain(root: ParentNode): void {
  for (const element of root.querySelectorAll('*')) {
    if (!(element instanceof LitElement)) continue;
    element.requestUpdate();
    if (element.shadowRoot) drawAgain(element.shadowRoot);
  }
}
