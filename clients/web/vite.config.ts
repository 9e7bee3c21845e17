import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vite';

const { version } = JSON.parse(readFileSync(new URL('../../package.json', import.meta.url), 'utf8'));

export default defineConfig({
  root: fileURLToPath(new URL('.', import.meta.url)),
  define: { __VERSION__: JSON.stringify(version) },
  build: {
    outDir: fileURLToPath(new URL('../../dist/web', import.meta.url)),
    emptyOutDir: true,
    assetsInlineLimit: 0, // nothing inline: the daemon's content policy allows its own files only
    modulePreload: { polyfill: false },
  },
});
