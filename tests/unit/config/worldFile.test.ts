import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { loadWorld } from '../../../src/cli/simulation.js';
import { everyKey } from '../../../src/config/schema.js';
import { worldSchema } from '../../../src/config/worldSchema.js';
import { SURFACES } from '../../../src/simulator/world.js';

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'leeway-world-'));
});
afterEach(() => rmSync(folder, { recursive: true }));
const load = (text: string) => {
  writeFileSync(join(folder, 'w.yaml'), text);
  return loadWorld(join(folder, 'w.yaml'));
};

test('three worlds are built in', () => {
  expect(readdirSync('src/simulator/worlds').sort()).toEqual(['hall.yaml', 'nursery.yaml', 'shed.yaml']);
  for (const name of ['hall', 'nursery', 'shed']) {
    const world = loadWorld(name);
    expect(world.movers.length).toBeGreaterThan(0);
    expect(world.walls.some(({ surface }) => surface === 'glass')).toBe(true);
    expect(world.hoses.length + world.benches.length).toBeGreaterThan(0);
  }
});

test('the surfaces of the schema are those of the simulator', () => {
  const limits = everyKey(worldSchema).find(({ path }) => path === 'walls[].surface')?.node;
  expect(limits?.kind === 'leaf' && limits.limits).toBe(SURFACES.join(' | '));
});

test('an empty world is one, and what is said comes through in SI', () => {
  expect(load('{}').walls).toEqual([]);
  const world = load(`
start: { x_m: 1, y_m: 2, heading_rad: 0.5 }
walls: [{ name: pane, points_m: [[0, 0], [1, 0]], surface: glass, height_m: [0.1, 2] }]
posts: [{ name: pot, at_m: [[1, 1], [2, 1]], radius_m: 0.1 }]
benches: [{ name: bench, from_m: [0, 0], to_m: [2, 1] }]
`);
  expect(world.start).toEqual({ x: 1, y: 2, heading: 0.5 });
  expect(world.walls[0]).toMatchObject({
    points: [
      [0, 0],
      [1, 0],
    ],
    surface: 'glass',
    height: [0.1, 2],
  });
  expect(world.posts.map(({ at }) => at)).toEqual([
    [1, 1],
    [2, 1],
  ]);
  expect(world.benches[0].legRadius).toBe(0.015); // legs of 3 cm
});

describe('a world that is wrong', () => {
  test.each([
    {
      name: 'an unknown key',
      text: 'walls: [{ name: a, points_m: [[0, 0], [1, 0]], surfce: glass }]',
      code: 'CONFIG_KEY_UNKNOWN',
      facts: { nearest: 'walls.surface' },
    },
    {
      name: 'an unknown surface',
      text: 'walls: [{ name: a, points_m: [[0, 0], [1, 0]], surface: ice }]',
      code: 'CONFIG_VALUE_BAD',
      facts: { key: 'walls[0].surface' },
    },
    {
      name: 'a wall of one point',
      text: 'walls: [{ name: a, points_m: [[0, 0]] }]',
      code: 'CONFIG_VALUE_BAD',
      facts: { key: 'walls[0].points_m' },
    },
    {
      name: 'a post without radius',
      text: 'posts: [{ name: a, at_m: [[0, 0]] }]',
      code: 'CONFIG_VALUE_BAD',
      facts: { key: 'posts[0].radius_m' },
    },
    { name: 'no YAML', text: 'walls: [', code: 'CONFIG_YAML_BAD', facts: {} },
  ])('$name', ({ text, code, facts }) => {
    expect(() => load(text)).toThrow(expect.objectContaining({ code, facts: expect.objectContaining(facts) }));
  });
  test('a name that nobody knows', () => {
    expect(() => loadWorld('moon')).toThrow(
      expect.objectContaining({
        code: 'WORLD_NOT_FOUND',
        facts: expect.objectContaining({ known: 'hall, nursery, shed' }),
      }),
    );
  });
  test('a file that is not there', () => {
    expect(() => loadWorld(join(folder, 'none.yaml'))).toThrow(expect.objectContaining({ code: 'CONFIG_UNREADABLE' }));
  });
});

test('every key says why it is there, and is used by a world that is built in or has a default', () => {
  const said = readdirSync('src/simulator/worlds')
    .map((file) => readFileSync(join('src/simulator/worlds', file), 'utf8'))
    .join('\n');
  for (const { path, node } of everyKey(worldSchema)) {
    if (node.kind === 'leaf' || node.kind === 'list') expect(node.why, path).not.toBe('');
    if (node.kind === 'leaf' && node.isNeeded) expect(said, path).toContain(`${path.split('.').at(-1)}:`);
  }
});
