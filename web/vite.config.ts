import { fileURLToPath } from 'node:url';
import { defineConfig, type Plugin } from 'vite';

/** No minifier may touch templates: blanks that mean nothing to CSS, and indents, go here. */
const withoutBlanks: Plugin = {
  name: 'without-blanks',
  enforce: 'pre',
  transform: (code, id) =>
    id.endsWith('.ts') ? code.replace(/\bcss`[^`]*`/g, closer).replace(/\n[ \t]+/g, '\n') : null,
};

function closer(css: string): string {
  return css
    .replace(/\/\*.*?\*\//gs, '')
    .replace(/(?<!\s)\s*([{};,>])\s*/g, '$1')
    .replace(/:\s+/g, ':')
    .replace(/;}/g, '}');
}

export default defineConfig({
  root: fileURLToPath(new URL('.', import.meta.url)),
  base: './',
  plugins: [withoutBlanks],
  build: {
    outDir: '../dist/web',
    emptyOutDir: true,
    // The content security policy allows no inline script, style or font.
    assetsInlineLimit: 0,
    modulePreload: false,
    target: 'es2023',
  },
});
