import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vite';
import { closerProperties } from './build/closer-properties.js';
import { closerTemplates } from './build/closer-templates.js';
import { gatheredStyles } from './build/gathered-styles.js';
import { leanLit } from './build/lean-lit.js';
import { leanUplot } from './build/lean-uplot.js';

const WEB = fileURLToPath(new URL('.', import.meta.url));

export default defineConfig({
  root: WEB,
  base: './',
  plugins: [leanUplot(), leanLit(), gatheredStyles(WEB), closerTemplates(), closerProperties()],
  build: {
    outDir: '../dist/web',
    emptyOutDir: true,
    // The content security policy allows no inline script, style or font.
    assetsInlineLimit: 0,
    modulePreload: false,
    target: 'es2023',
    // To read a property does nothing here, nor in what the page is built with.
    rolldownOptions: { treeshake: { propertyReadSideEffects: false } },
  },
});
