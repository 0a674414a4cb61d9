import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Plugin } from 'vite';

const SHEETS = 'virtual:sheets';
const SHEET = /\bcss`([^`$]*)`/g;

/**
 * Puts the style sheets of all elements beside each other: what repeats in them is found by gzip within 32 KiB only.
 * No minifier touches them either, so blanks and remarks that mean nothing to CSS go here.
 */
export function gatheredStyles(folder: string): Plugin {
  const sheets: string[] = [];
  const texts = (code: string) => [...code.matchAll(SHEET)].map(([, text = '']) => text);
  return {
    name: 'gathered-styles',
    apply: 'build',
    enforce: 'pre',
    buildStart() {
      const files = readdirSync(folder, { recursive: true, encoding: 'utf8' }).filter((file) =>
        file.endsWith('.ts'),
      );
      const codes = files.sort().map((file) => readFileSync(join(folder, file), 'utf8'));
      sheets.splice(0, Infinity, ...new Set(codes.flatMap(texts)));
    },
    resolveId: (id) => (id === SHEETS ? id : null),
    load: (id) => (id === SHEETS ? `export default ${JSON.stringify(sheets.map(closer))}` : null),
    transform(code, id) {
      if (!id.endsWith('.ts') || texts(code).length === 0) return null;
      const gathered = code.replace(SHEET, (_, text: string) => `asSheet(sheets[${sheets.indexOf(text)}])`);
      return `import sheets from '${SHEETS}';import { unsafeCSS as asSheet } from 'lit';${gathered}`;
    },
  };
}

function closer(css: string): string {
  return css
    .replace(/\/\*.*?\*\//gs, '')
    .replace(/\s+/g, ' ')
    .replace(/ ?([{};,>]) ?/g, '$1')
    .replace(/: /g, ':')
    .replace(/(?<![\w.])0\.(?=\d)/g, '.')
    .replace(/;}/g, '}')
    .trim();
}
