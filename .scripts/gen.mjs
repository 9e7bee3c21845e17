// Makes src/messages/gen from proto/. `--check`: makes it elsewhere and compares; ends with 1 where the committed one differs.
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';

const ROOT = resolve(import.meta.dirname, '..');
const GEN = join(ROOT, 'src/messages/gen');
const MADE = ['leeway.js', 'leeway.d.ts', 'leeway.json'];
const pbjs = join(ROOT, 'node_modules/.bin/pbjs');
const LEAN = ['--no-create', '--no-verify', '--no-convert', '--no-delimited', '--no-typeurl', '--no-service']; // only what is used

function make(folder) {
  // envelope.proto imports all the others
  const run = (...options) =>
    execFileSync(process.execPath, [pbjs, ...options, '-p', 'proto', 'leeway/v1/envelope.proto'], {
      cwd: ROOT,
      stdio: 'inherit',
    });
  run('-t', 'static-module', '-w', 'esm', '--dts', '--force-number', ...LEAN, '-o', join(folder, 'leeway.js'));
  run('-t', 'json', '-o', join(folder, 'leeway.json')); // what src/messages/protoJson.ts walks
}

if (process.argv.includes('--check')) {
  const folder = mkdtempSync(join(tmpdir(), 'leeway-gen-'));
  try {
    make(folder);
    const stale = MADE.filter((name) => !readFileSync(join(folder, name)).equals(readFileSync(join(GEN, name))));
    if (stale.length > 0) {
      console.error(`src/messages/gen is not what proto/ makes: ${stale.join(', ')}. Run npm run gen and commit.`);
      process.exitCode = 1;
    }
  } finally {
    rmSync(folder, { recursive: true });
  }
} else {
  make(GEN);
}
