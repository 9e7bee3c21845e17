// Builds dist/ where it is missing or older than what it is made of; says so on standard error only.
import { execFileSync } from 'node:child_process';
import { existsSync, readdirSync, statSync } from 'node:fs';
import { join, resolve } from 'node:path';

const ROOT = resolve(import.meta.dirname, '..');
const INPUTS = ['src', 'clients/typescript', 'clients/web', '.scripts/build.mjs', 'package-lock.json', 'tsconfig.json'];

/** ms, the newest change below `path`; a folder's own time tells of files that went. */
function newest(path) {
  if (!existsSync(path)) return 0;
  const found = statSync(path);
  if (!found.isDirectory()) return found.mtimeMs;
  const names = readdirSync(path).filter((name) => name !== 'node_modules' && name !== 'dist');
  return Math.max(found.mtimeMs, ...names.map((name) => newest(join(path, name))));
}

const built = newest(join(ROOT, 'dist/.built'));
if (INPUTS.some((input) => newest(join(ROOT, input)) > built)) {
  console.error('building ...');
  try {
    execFileSync(process.execPath, [join(ROOT, '.scripts/build.mjs')], { cwd: ROOT, stdio: ['ignore', 2, 2] });
  } catch {
    process.exit(1); // the build has said why
  }
}
