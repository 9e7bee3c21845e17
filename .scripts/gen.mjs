// Makes the generated code of src/messages and of the TypeScript client from proto/.
// `--check`: makes it elsewhere and compares; ends with 1 where the committed one differs.
import { execFileSync } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';

const ROOT = resolve(import.meta.dirname, '..');
const pbjs = join(ROOT, 'node_modules/.bin/pbjs');
const LEAN = ['--no-create', '--no-verify', '--no-convert', '--no-delimited', '--no-typeurl', '--no-service']; // only what is used

function run(...options) {
  // envelope.proto imports all the others
  execFileSync(process.execPath, [pbjs, ...options, '-p', 'proto', 'leeway/v1/envelope.proto'], {
    cwd: ROOT,
    stdio: 'inherit',
  });
}
const makeCode = (file) => run('-t', 'static-module', '-w', 'esm', '--dts', '--force-number', ...LEAN, '-o', file);
const makeTable = (file) => run('-t', 'json', '-o', file);

/** The folders, and what makes which of their files. A client shares no code with the daemon, so it has its own copy. */
const MADE = [
  { folder: 'src/messages/gen', make: makeCode, main: 'leeway.js', files: ['leeway.js', 'leeway.d.ts'] },
  { folder: 'src/messages/gen', make: makeTable, main: 'leeway.json', files: ['leeway.json'] }, // protoJson.ts walks it
  { folder: 'clients/typescript/src/gen', make: makeCode, main: 'leeway.js', files: ['leeway.js', 'leeway.d.ts'] },
];

if (process.argv.includes('--check')) {
  const temporary = mkdtempSync(join(tmpdir(), 'leeway-gen-'));
  try {
    const stale = [];
    for (const { folder, make, main, files } of MADE) {
      make(join(temporary, main));
      for (const name of files) {
        const path = join(ROOT, folder, name);
        if (!existsSync(path) || !readFileSync(join(temporary, name)).equals(readFileSync(path)))
          stale.push(join(folder, name));
      }
    }
    if (stale.length > 0) {
      console.error(`not what proto/ makes: ${stale.join(', ')}. Run npm run gen and commit.`);
      process.exitCode = 1;
    }
  } finally {
    rmSync(temporary, { recursive: true });
  }
} else {
  for (const { folder, make, main } of MADE) make(join(ROOT, folder, main));
}
