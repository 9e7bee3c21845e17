// `npm test`: everything CI runs, one step after the other, also after a step that failed. Ends with `N passed, N failed`,
// which counts each test and each other step once. `npm test -- FILTER`: only the tests whose path has FILTER in it.
import { spawnSync } from 'node:child_process';
import { mkdirSync, readFileSync, rmSync } from 'node:fs';
import { delimiter, join, resolve } from 'node:path';

const ROOT = resolve(import.meta.dirname, '..');
const RESULTS = join(ROOT, 'artefacts/tests.json');
const filters = process.argv.slice(2);
const env = { ...process.env, PATH: `${join(ROOT, 'node_modules/.bin')}${delimiter}${process.env.PATH}` }; // Node 24 for all

const isTerminal = process.stdout.isTTY === true;
if (!isTerminal) env.NO_COLOR = '1'; // a log is read as text

const STEPS = [
  ['generated code is what proto/ makes', 'node', '.scripts/gen.mjs', '--check'],
  ['proto: buf lint', 'buf', 'lint', 'proto'],
  ['proto: buf format', 'buf', 'format', '--diff', '--exit-code', 'proto'],
  ['biome', 'biome', 'ci', '--error-on-warnings', `--colors=${isTerminal ? 'force' : 'off'}`],
  ['build', 'node', '.scripts/build.mjs'],
  ['types of tests and clients', 'tsc', '-p', 'tests/tsconfig.json'],
  ['nothing unused: knip', 'knip', '--no-progress'],
];
const VITEST = ['vitest', 'run', '--config', 'tests/vitest.config.ts', '--project', 'unit', '--project', 'line'];

/** @returns whether it ended well; prints its name, then what it says, then how long it took. */
function step(name, command, ...options) {
  console.log(`\n== ${name}`);
  const start = performance.now();
  const { status, error } = spawnSync(command, options, { cwd: ROOT, env, stdio: 'inherit' });
  if (error) console.log(error.message);
  console.log(
    `== ${name}: ${status === 0 ? 'passed' : 'FAILED'} (${((performance.now() - start) / 1000).toFixed(1)} s)`,
  );
  return status === 0;
}

const node = spawnSync('node', ['--version'], { env, encoding: 'utf8' }).stdout.trim();
console.log(`Node ${node} on ${process.arch}`);
let passed = 0;
const failed = [];
for (const [name, ...command] of filters.length > 0 ? [] : STEPS) {
  if (step(name, ...command)) passed++;
  else failed.push(name);
}

mkdirSync(join(ROOT, 'artefacts'), { recursive: true });
rmSync(RESULTS, { force: true });
const isSound = step(
  'tests',
  ...VITEST,
  '--reporter=default',
  '--reporter=json',
  `--outputFile.json=${RESULTS}`,
  ...filters,
);
let failedTests = 0;
try {
  const results = JSON.parse(readFileSync(RESULTS, 'utf8'));
  passed += results.numPassedTests;
  failedTests = results.numFailedTests;
  const skipped = results.numPendingTests + results.numTodoTests;
  if (skipped > 0) console.log(`${skipped} tests skipped; each says why above`);
} catch {
  console.log('the tests left no results');
}
if (!isSound && failedTests === 0) failed.push('tests'); // a file that did not load, an error outside a test

if (failed.length > 0) console.log(`\nfailed: ${failed.join('; ')}`);
const total = failed.length + failedTests;
console.log(`${passed} passed, ${total} failed`);
process.exitCode = total === 0 && isSound ? 0 : 1;
