import { fileURLToPath } from 'node:url';
import { defineConfig, type Plugin } from 'vite';
import { gatheredStyles } from './build/gathered-styles.js';
import { leanUplot } from './build/lean-uplot.js';

const WEB = fileURLToPath(new URL('.', import.meta.url));

/** No minifier may touch templates: indents go here. */
const withoutIndents: Plugin = {
  name: 'without-indents',
  enforce: 'pre',
  transform: (code, id) => (id.endsWith('.ts') ? code.replace(/\n[ \t]+/g, '\n') : null),
};

export default defineConfig({
  root: WEB,
  base: './',
  plugins: [leanUplot(), gatheredStyles(WEB), withoutIndents],
  build: {
    outDir: '../dist/web',
    emptyOutDir: true,
    // The content security policy allows no inline script, style or font.
    assetsInlineLimit: 0,
    modulePreload: false,
    target: 'es2023',
  },
});
