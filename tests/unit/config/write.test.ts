import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, expect, test } from 'vitest';
import { loadConfig } from '../../../src/config/load.js';
import { writeSettings } from '../../../src/config/write.js';
import type { Fault } from '../../../src/core/fault.js';

const folder = mkdtempSync(join(tmpdir(), 'leeway-write-'));
afterAll(() => rmSync(folder, { recursive: true }));
const file = (name: string, text: string): string => {
  writeFileSync(join(folder, name), text);
  return join(folder, name);
};
/** Lines of `after` that `before` has not, and the other way round: what a person sees in a diff. */
const changed = (before: string, after: string): { gone: string[]; come: string[] } => {
  const [b, a] = [before.split('\n'), after.split('\n')];
  return { gone: b.filter((line) => !a.includes(line)), come: a.filter((line) => !b.includes(line)) };
};

test('one value in the example: every other line stays as it is, comments too', () => {
  const before = readFileSync('deploy/example.yaml', 'utf8');
  const path = file('example.yaml', before);
  writeSettings(path, [{ path: ['sensor', 'mount', 'yaw_rad'], value: 1.25 }]);
  expect(changed(before, readFileSync(path, 'utf8'))).toEqual({
    gone: ['    yaw_rad: 0 # turned to the left'],
    come: ['    yaw_rad: 1.25 # turned to the left'],
  });
});

test('a list that was empty, and a key that was not there', () => {
  const path = file('list.yaml', '# my cart\nsensor:\n  source: simulated # for now\n  masks: []\n');
  const masks = [
    { from_rad: 3.05, to_rad: -3.05, up_to_m: 0.3 },
    { from_rad: 1, to_rad: 1.1, up_to_m: 0.2 },
  ];
  writeSettings(path, [
    { path: ['sensor', 'masks'], value: masks },
    { path: ['sensor', 'range', 'offset_m'], value: 0.012 },
  ]);
  const text = readFileSync(path, 'utf8');
  expect(text).toContain('# my cart\nsensor:\n  source: simulated # for now\n');
  const { sensor } = loadConfig(path);
  expect(sensor.masks.map(({ upTo }) => upTo)).toEqual([0.3, 0.2]);
  expect(sensor.range.offset).toBe(0.012);
});

test('a file that is not there, an empty one, and a section that holds nothing but a comment', () => {
  const settings = [{ path: ['sensor', 'mount', 'yaw_rad'], value: -0.5 }];
  for (const path of [
    join(folder, 'new.yaml'),
    file('empty.yaml', ''),
    file('bare.yaml', 'sensor:\n  # nothing yet\nrover:\n  name: cart\n'),
  ]) {
    writeSettings(path, settings);
    expect(loadConfig(path).sensor.mount.yaw).toBe(-0.5);
  }
});

test('a value out of its limits leaves the file as it was, and nothing beside it', () => {
  const before = 'sensor:\n  source: simulated\n';
  const path = file('kept.yaml', before);
  const failure = (): Fault => {
    try {
      writeSettings(path, [{ path: ['sensor', 'range', 'offset_m'], value: 30 }]);
    } catch (error) {
      return error as Fault;
    }
    throw new Error('no fault');
  };
  expect(failure().code).toBe('CONFIG_VALUE_BAD');
  expect(readFileSync(path, 'utf8')).toBe(before);
  expect(readdirSync(folder).filter((name) => name.includes('part'))).toEqual([]);
});
