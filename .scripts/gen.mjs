// Makes src/messages/gen and clients/typescript/src/gen from proto/. `--check`: makes it elsewhere and compares; ends with 1 where the committed one differs.
import { execFileSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join, resolve } from 'node:path';

const ROOT = resolve(import.meta.dirname, '..');
const MADE = [
  'src/messages/gen/leeway.js',
  'src/messages/gen/leeway.d.ts',
  'src/messages/gen/leeway.json', // what src/messages/protoJson.ts walks
  'clients/typescript/src/gen/leeway.js',
  'clients/typescript/src/gen/leeway.d.ts',
];
const pbjs = join(ROOT, 'node_modules/.bin/pbjs');
const LEAN = ['--no-create', '--no-verify', '--no-convert', '--no-delimited', '--no-typeurl', '--no-service']; // only what is used

function make(root) {
  for (const path of MADE) {
    if (path.endsWith('.d.ts')) continue; // comes with its .js
    mkdirSync(dirname(join(root, path)), { recursive: true });
    const target = path.endsWith('.json') ? ['-t', 'json'] : ['-t', 'static-module', '-w', 'esm', '--dts', '--force-number', ...LEAN];
    // envelope.proto imports all the others
    execFileSync(process.execPath, [pbjs, ...target, '-o', join(root, path), '-p', 'proto', 'leeway/v1/envelope.proto'], {
      cwd: ROOT,
      stdio: 'inherit',
    });
  }
}

if (process.argv.includes('--check')) {
  const folder = mkdtempSync(join(tmpdir(), 'leeway-gen-'));
  try {
    make(folder);
    const stale = MADE.filter((name) => !readFileSync(join(folder, name)).equals(readFileSync(join(ROOT, name))));
    if (stale.length > 0) {
      console.error(`Generated code is not what proto/ makes: ${stale.join(', ')}. Run npm run gen and commit.`);
      process.exitCode = 1;
    }
  } finally {
    rmSync(folder, { recursive: true });
  }
} else {
  make(ROOT);
}
