import { withoutObeyed } from '../../design/obeyed-signs.js';

/** Markup that is safe to put into a page: only `html` makes it. */
export class Markup {
  readonly text: string;

  constructor(text: string) {
    this.text = text;
  }
}

type Part = Markup | string | number | readonly Part[];

/** Markup from a template. Whatever is put in is escaped, unless it is markup itself. */
export function html(strings: TemplateStringsArray, ...parts: readonly Part[]): Markup {
  return new Markup(strings.reduce((all, text, i) => all + rendered(parts[i - 1] ?? '') + text));
}

/** Nothing at all. */
export const NOTHING = new Markup('');

function rendered(part: Part): string {
  if (part instanceof Markup) return part.text;
  if (typeof part === 'object') return part.map(rendered).join('');
  return escaped(String(part));
}

/** The five characters that mean something in HTML, and a dot for what is obeyed and not shown. */
function escaped(text: string): string {
  return withoutObeyed(text)
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;')
    .replaceAll('"', '&quot;')
    .replaceAll("'", '&#39;');
}
