import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vite';

export default defineConfig({
  root: fileURLToPath(new URL('.', import.meta.url)),
  base: './',
  build: {
    outDir: '../dist/web',
    emptyOutDir: true,
    // The content security policy allows no inline script, style or font.
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
    target: 'es2023',
  },
});
