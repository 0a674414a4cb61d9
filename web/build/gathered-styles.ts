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
  return {
    name: 'gathered-styles',
    apply: 'build',
    enforce: 'pre',
    buildStart() {
      sheets.splice(0, Infinity, ...sheetsIn(folder));
    },
    resolveId: (id) => (id === SHEETS ? id : null),
    load: (id) => (id === SHEETS ? `export default ${JSON.stringify(sheets.map(closer))}` : null),
    transform(code, id) {
      if (!id.endsWith('.ts') || sheetsOf(code).length === 0) return null;
      const gathered = code.replace(SHEET, (_, text: string) => `asSheet(sheets[${sheets.indexOf(text)}])`);
      return `import sheets from '${SHEETS}';import { unsafeCSS as asSheet } from 'lit';${gathered}`;
    },
  };
}

/** The texts of all sheets of the elements in a folder. */
export function sheetsIn(folder: string): readonly string[] {
  const files = readdirSync(folder, { recursive: true, encoding: 'utf8' });
  const scripts = files.filter((file) => file.endsWith('.ts')).sort();
  return [...new Set(scripts.flatMap((file) => sheetsOf(readFileSync(join(folder, file), 'utf8'))))];
}

function sheetsOf(code: string): readonly string[] {
  return [...code.matchAll(SHEET)].map(([, text = '']) => text);
}

/** The same rules in fewer letters; blanks on one line are left alone, for they may stand in a string. */
export function closer(css: string): string {
  return css
    .replace(/\/\*.*?\*\//gs, '')
    .split('\n')
    .map((line) => line.trim())
    .join(' ')
    .replace(/ ?([{};,>]) ?/g, '$1')
    .replace(/: /g, ':')
    .replace(/(?<![\w.])0\.(?=\d)/g, '.')
    .replace(/;}/g, '}')
    .trim();
}
