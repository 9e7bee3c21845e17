// The house style as far as a machine can check it: who imports whom, what tells time, names of units, sizes.
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { importsOf, LAYERS, strangers, unitless, violations } from './support/layerRules.js';

const ROOT = new URL('../', import.meta.url);
const read = (path: string): string => readFileSync(new URL(path, ROOT), 'utf8');
const below = (folder: string): string[] =>
  readdirSync(new URL(folder, ROOT), { recursive: true, encoding: 'utf8' }).map((name) => `${folder}${name}`);

const sources = below('src/').filter((path) => path.endsWith('.ts') && !path.startsWith('src/messages/gen/'));

describe('the tree', () => {
  test('every file of src keeps to its layer', () => {
    expect(sources.length).toBeGreaterThan(20); // an empty list would pass everything
    expect(sources.flatMap((path) => violations(path, read(path)))).toEqual([]);
  });

  test('clients import proto/ and their own packages only', () => {
    const files = existsSync(new URL('clients/', ROOT))
      ? below('clients/').filter((path) => /\.(ts|js|mjs)$/.test(path))
      : [];
    const outside = files
      .filter((path) => !/node_modules|\/gen\//.test(path))
      .flatMap((path) => importsOf(read(path)).map(({ from }) => ({ path, from })))
      .filter(
        ({ path, from }) =>
          from.startsWith('.') && !new URL(from, new URL(path, ROOT)).href.startsWith(new URL('clients/', ROOT).href),
      );
    expect(outside).toEqual([]);
  });

  test('every physical field of proto/ has its unit in its name', () => {
    const protos = below('proto/').filter((path) => path.endsWith('.proto'));
    expect(protos.length).toBe(8);
    expect(protos.flatMap((path) => unitless(read(path)).map((field) => `${path}: ${field}`))).toEqual([]);
  });

  test('nothing lies at the top level that does not belong there', () => {
    const ignored = read('.gitignore')
      .split('\n')
      .map((line) => line.replaceAll('/', ''));
    expect(strangers(readdirSync(ROOT), ignored)).toEqual([]);
  });
});

describe('the rules find what they are for', () => {
  const DOC = '/** Why. */\n';
  test.each([
    {
      path: 'src/core/a.ts',
      source: "import { x } from '../device/port.js';",
      says: 'core may not import src/device/port.js',
    },
    { path: 'src/core/a.ts', source: "import { x } from 'rxjs';", says: 'core may not use rxjs' },
    {
      path: 'src/perception/clearance/a.ts',
      source: "import type { P } from '../../device/port.js';",
      says: 'may not import src/device/port.js (types)',
    },
    {
      path: 'src/messages/a.ts',
      source: "import { Sectors } from '../perception/a.js';",
      says: 'may not import src/perception/a.js',
    },
    {
      path: 'src/messages/a.ts',
      source: "import { type A, b } from '../perception/a.js';",
      says: 'may not import src/perception/a.js',
    },
    {
      path: 'src/simulator/a.ts',
      source: "import { Decoder } from '../device/decoder.js';",
      says: 'may not import src/device/decoder.js',
    },
    {
      path: 'src/server/a.ts',
      source: "export { x } from '../messages/a.js';",
      says: 'may not import src/messages/a.js',
    },
    {
      path: 'src/sweep/a.ts',
      source: "const { x } = await import('../device/port.js');",
      says: 'may not import src/device/port.js',
    },
    { path: 'src/sweep/a.ts', source: "import 'node:fs';", says: 'sweep may not use node:fs' },
    {
      path: 'src/sweep/a.ts',
      source: "import {\n  x,\n  y,\n} from '../health/a.js';",
      says: 'may not import src/health/a.js',
    },
    { path: 'src/cli/a.ts', source: "import x from '../../tests/support/a.js';", says: 'outside src' },
    { path: 'src/toys/a.ts', source: '', says: 'toys is no folder' },
    { path: 'src/device/a.ts', source: 'const t = Date.now();', says: 'Date: time comes from the injected Clock' },
    { path: 'src/device/a.ts', source: 'setTimeout(f, 5);', says: 'setTimeout' },
    { path: 'src/perception/a.ts', source: 'const r = Math.random();', says: 'Math.random' },
    { path: 'src/sweep/a.ts', source: 'const t = performance.now();', says: 'performance' },
    { path: 'src/server/a.ts', source: 'const e = process.env;', says: 'process is read in cli/' },
    { path: 'src/server/a.ts', source: `${DOC}export default function a() {}`, says: 'only a plugin' },
    { path: 'src/core/helpers.ts', source: '', says: 'has no subject' },
    { path: 'src/core/a.ts', source: '\n'.repeat(401), says: '401 lines' },
    { path: 'src/core/a.ts', source: 'export function f() {}', says: 'f is exported without a docstring' },
  ])('$path: $says', ({ path, source, says }) => {
    expect(violations(path, source)).toEqual([expect.stringContaining(says)]);
  });

  test.each([
    { path: 'src/core/clock.ts', source: 'const t = Date.now();' },
    { path: 'src/cli/serve.ts', source: 'process.exitCode = 1; setTimeout(f, 5);' },
    { path: 'src/core/a.ts', source: '// Date and performance\nconst a = "Date"; /* process.env */' },
    { path: 'src/core/a.ts', source: "const a = 'http://x'; // import { y } from 'z'" },
    { path: 'src/core/a.ts', source: "import { b } from './b.js';\nimport { c } from '../core/c.js';" },
    {
      path: 'src/messages/a.ts',
      source: "import type { A } from '../perception/a.js';\nimport { type B } from '../sweep/b.js';",
    },
    { path: 'src/messages/a.ts', source: "import pb from 'protobufjs/minimal.js';" },
    { path: 'src/simulator/a.ts', source: "import { findLayout } from '../device/layouts/index.js';" },
    { path: 'src/server/feedsPlugin.ts', source: `${DOC}export default fp(f);` },
    { path: 'src/core/a.ts', source: `${DOC}export function f() {}\n${DOC}export class A {}` },
  ])('but lets pass, in $path: $source', ({ path, source }) => {
    expect(violations(path, source)).toEqual([]);
  });

  test('a field without a unit, and one whose unit is another', () => {
    expect(
      unitless('message A { float range = 1; repeated double x_m = 2; optional float rate = 3; uint32 n = 4; }'),
    ).toEqual(['range', 'rate']);
    expect(unitless('message A { float spin_hz = 1; // float gone = 2;\n float valid_share = 3; }')).toEqual([]);
  });

  test('a stranger at the top level', () => {
    expect(strangers(['src', '.ci', 'dist', 'biome.json'], ['dist'])).toEqual(['biome.json']);
  });

  test('the table names only folders that the style has', () => {
    const imported = Object.values(LAYERS).flatMap(({ imports }) =>
      imports.map((name) => name.replace(/:types$/, '').split('/')[0]),
    );
    expect(imported.filter((name) => name !== '*' && LAYERS[name] === undefined)).toEqual([]);
  });
});
