// Makes dist/: the program by tsc, the generated code beside it, the page, and the `leeway` that npx finds.
import { execFileSync } from 'node:child_process';
import { chmodSync, cpSync, existsSync, mkdirSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';

const ROOT = resolve(import.meta.dirname, '..');
const DIST = join(ROOT, 'dist');
const BIN = join(ROOT, 'node_modules/.bin');

function run(tool, ...options) {
  if (!existsSync(join(BIN, tool))) {
    console.error(`build: ${tool} is missing. Run npm ci in ${ROOT} (without --omit=dev).`);
    process.exit(1);
  }
  try {
    execFileSync(process.execPath, [join(BIN, tool), ...options], { cwd: ROOT, stdio: 'inherit' });
  } catch {
    console.error(`build: ${tool} found the faults above.`);
    process.exit(1);
  }
}

rmSync(DIST, { recursive: true, force: true }); // what no source makes any more must not linger
run('tsc', '-p', 'clients/typescript/tsconfig.json'); // first: the program's own view of a rover is one of its clients, #client
cpSync(join(ROOT, 'clients/typescript/src/gen'), join(DIST, 'client/gen'), { recursive: true });
run('tsc', '-p', 'tsconfig.json');
cpSync(join(ROOT, 'src/messages/gen/leeway.js'), join(DIST, 'messages/gen/leeway.js')); // tsc copies no .js that has a .d.ts
cpSync(join(ROOT, 'src/simulator/worlds'), join(DIST, 'simulator/worlds'), { recursive: true });
const main = join(DIST, 'main.js');
chmodSync(main, 0o755);
// npx makes its own link in its cache, but only once: tried before the first build, it would say "not found" for ever
const link = join(BIN, 'leeway');
rmSync(link, { force: true });
symlinkSync('../../dist/main.js', link);
if (existsSync(join(ROOT, 'clients/web'))) run('vite', 'build', 'clients/web', '--logLevel', 'warn');
mkdirSync(DIST, { recursive: true });
writeFileSync(join(DIST, '.built'), ''); // last: its time tells start.mjs what is newer
