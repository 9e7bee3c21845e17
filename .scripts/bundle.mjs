// Turns one TypeScript file and what it imports of ours into a file that Node runs.
import { join, resolve } from 'node:path';
import { build } from 'vite';

const ROOT = resolve(import.meta.dirname, '..');

/** @returns the path of the made file. */
export async function bundle(entry, folder) {
  await build({
    root: ROOT,
    configFile: false,
    logLevel: 'error',
    build: {
      ssr: join(ROOT, entry),
      outDir: join(ROOT, 'dist', folder),
      emptyOutDir: true,
      target: 'node22',
      rollupOptions: { output: { entryFileNames: '[name].mjs' } },
    },
  });
  return join(ROOT, 'dist', folder, `${entry.split('/').at(-1).replace(/\.ts$/, '')}.mjs`);
}
