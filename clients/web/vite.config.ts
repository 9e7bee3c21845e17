import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vite';

export default defineConfig({
  root: fileURLToPath(new URL('.', import.meta.url)),
  build: {
    outDir: fileURLToPath(new URL('../../dist/web', import.meta.url)),
    emptyOutDir: true,
    assetsInlineLimit: 0, // nothing inline: the daemon's content policy allows its own files only
    modulePreload: { polyfill: false },
  },
});
