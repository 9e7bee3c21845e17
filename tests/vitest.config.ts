import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vitest/config';

/**
 * Four projects: `unit` (fast, files side by side), `line` (pty, sockets, browser: one file after the other, after `unit`,
 * since they look at real time), and, only when named, `soak` and `bench`.
 * `npm test` runs unit and line; the fuzz tests in unit are short there and long under `npm run fuzz`.
 */
export default defineConfig({
  root: fileURLToPath(new URL('..', import.meta.url)),
  ssr: { resolve: { conditions: ['source', 'module', 'node', 'development|production'] } }, // #client as it is written, not as it was built
  test: {
    projects: [
      {
        extends: true,
        test: {
          name: 'unit',
          include: [
            'tests/*.test.ts',
            'tests/{unit,property,marbles,golden,worlds,fuzz}/**/*.test.ts',
            'clients/**/*.test.ts',
          ],
          testTimeout: 30_000,
          sequence: { groupOrder: 0 },
        },
      },
      {
        extends: true,
        test: {
          name: 'line',
          include: ['tests/{link,browser}/**/*.test.ts'],
          testTimeout: 60_000,
          fileParallelism: false,
          sequence: { groupOrder: 1 },
        },
      },
      {
        extends: true,
        test: {
          name: 'soak',
          include: ['tests/soak/**/*.test.ts'],
          testTimeout: 3_600_000,
          fileParallelism: false,
          sequence: { groupOrder: 2 },
        },
      },
      {
        extends: true,
        test: {
          name: 'bench',
          include: ['tests/bench/**/*.test.ts'],
          testTimeout: 600_000,
          fileParallelism: false,
          sequence: { groupOrder: 3 },
        },
      },
    ],
  },
});
