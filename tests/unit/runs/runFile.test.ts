// Files as they are met: cut off, damaged, foreign, empty, old, newer. What is whole of them stays usable, and a code says what is wrong.
import { copyFileSync, mkdtempSync, readFileSync, truncateSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { DatabaseSync } from 'node:sqlite';
import { beforeAll, describe, expect, test } from 'vitest';
import { Fault } from '../../../src/core/fault.js';
import { checkRun, repairRun } from '../../../src/runs/check.js';
import { findRun, listed, namedRun } from '../../../src/runs/folder.js';
import { ENTRY } from '../../../src/runs/format.js';
import { changeRun, RunFile } from '../../../src/runs/runFile.js';
import { seededRandom } from '../../support/random.js';
import { recordedRun, replayHash } from '../../support/recordedRun.js';

const SEED = 11;
const folder = mkdtempSync(join(tmpdir(), 'leeway-files-'));
let sound = '';
let copies = 0;
beforeAll(async () => {
  sound = await recordedRun(6);
}, 60_000);

function copy(): string {
  const path = join(folder, `copy-${++copies}.run`);
  copyFileSync(sound, path);
  return path;
}

function codeOf(act: () => unknown): string {
  try {
    act();
  } catch (error) {
    if (error instanceof Fault) return error.code;
    throw error;
  }
  return 'none';
}

function bytesOf(path: string): { bytes: number; damage: number } {
  const run = new RunFile(path);
  let bytes = 0;
  for (let block = run.block(0); block; block = run.block(block.atUs + 1))
    for (const { kind, payload } of block.entries) if (kind === ENTRY.bytes) bytes += payload.length;
  const damage = run.damage.badBlocks + run.damage.unreadable;
  run.close();
  return { bytes, damage };
}

describe('a sound run', () => {
  test('says what it is, is whole, and can be found by name, path and as the newest', () => {
    const { about, events, moments, until, summary } = new RunFile(sound);
    expect(about).toMatchObject({ rover: 'rover', source: 'simulated', version: 'test', pinned: false, stride: 5 });
    expect(until - about.began_s).toBeGreaterThan(5.9);
    expect(moments.length).toBeGreaterThanOrEqual(5);
    expect(events).toBeInstanceOf(Array);
    expect(summary.driven).toBeGreaterThanOrEqual(0);
    expect(checkRun(sound).findings).toEqual([]);
    const place = sound.slice(0, sound.lastIndexOf('/'));
    for (const name of [about.name, sound, '']) expect(findRun(place, name)).toBe(sound);
    expect(codeOf(() => findRun(place, 'nothing'))).toBe('RUN_NOT_FOUND');
    expect(codeOf(() => namedRun(place, `../${place.split('/').at(-1)}/${about.name}`))).toBe('RUN_NOT_FOUND');
  });

  test('holds every byte that the line carried: 2000 samples of 5 bytes a second', () => {
    const { bytes } = bytesOf(sound);
    expect(bytes).toBeGreaterThan(5.8 * 10_000);
    expect(bytes).toBeLessThan(6.1 * 10_000);
  });

  test('takes a title and a pin', () => {
    const path = copy();
    changeRun(path, { title: 'Tuesday, "early"', pinned: true });
    expect(listed(path)).toMatchObject({ title: 'Tuesday, "early"', pinned: true });
  });
});

describe('what is no sound run', () => {
  test.each([
    { what: 'empty', bytes: Buffer.alloc(0), code: 'RUN_EMPTY' },
    { what: 'text', bytes: Buffer.from('{"t":0}\n'), code: 'RUN_FOREIGN' },
    {
      what: 'noise',
      bytes: Buffer.from(Array.from({ length: 5000 }, (_, i) => (i * 7919) & 255)),
      code: 'RUN_FOREIGN',
    },
    { what: 'a head alone', bytes: Buffer.from('SQLite format 3\0'), code: 'RUN_DAMAGED' },
  ])('$what: $code', ({ what, bytes, code }) => {
    const path = join(folder, `${what}.run`);
    writeFileSync(path, bytes);
    expect(codeOf(() => new RunFile(path))).toBe(code);
    expect(listed(path).fault).toBe(code);
  });

  test("another program's SQLite file, and a run of a version to come", () => {
    const foreign = join(folder, 'foreign.run');
    const database = new DatabaseSync(foreign);
    database.exec('PRAGMA application_id = 7; CREATE TABLE about (key, value)');
    database.close();
    expect(codeOf(() => new RunFile(foreign))).toBe('RUN_FOREIGN');
    const newer = copy();
    const other = new DatabaseSync(newer);
    other.exec('PRAGMA user_version = 99');
    other.close();
    expect(codeOf(() => new RunFile(newer))).toBe('RUN_NEWER');
    expect(codeOf(() => new RunFile(join(folder, 'none.run')))).toBe('RUN_NOT_FOUND');
  });

  test('cut off anywhere: what comes before is there; repair saves it', () => {
    const size = readFileSync(sound).length;
    const whole = bytesOf(sound).bytes;
    let before = whole;
    for (const share of [0.95, 0.8, 0.6, 0.4, 0.2]) {
      const path = copy();
      truncateSync(path, Math.floor(size * share));
      const { bytes, damage } = bytesOf(path);
      expect(bytes, `${share}`).toBeLessThanOrEqual(before);
      expect(bytes, `${share}`).toBeGreaterThan((share - 0.25) * whole);
      expect(damage, `${share}`).toBeGreaterThan(0);
      expect(checkRun(path).findings.length).toBeGreaterThan(0);
      expect(repairRun(path)).toContain('saved');
      expect(checkRun(path).findings).toEqual([]);
      expect(bytesOf(path)).toEqual({ bytes, damage: 0 });
      before = bytes;
    }
  });

  test('flipped bytes: blocks that do not match are left out, the rest is there and plays', async () => {
    console.log(`seed ${SEED}`);
    const random = seededRandom(SEED);
    const whole = bytesOf(sound).bytes;
    let usable = 0;
    for (let i = 0; i < 12; i++) {
      const path = copy();
      const bytes = readFileSync(path);
      for (let k = 0; k < 3; k++)
        bytes[4096 + Math.floor(random() * (bytes.length - 4096))] ^= 1 << Math.floor(random() * 8);
      writeFileSync(path, bytes);
      const code = codeOf(() => new RunFile(path).close());
      expect(['none', 'RUN_DAMAGED']).toContain(code);
      if (code !== 'none') continue;
      usable++;
      const found = bytesOf(path);
      expect(found.bytes).toBeLessThanOrEqual(whole);
      expect(found.bytes).toBeGreaterThan(whole * 0.4);
      await replayHash(path);
    }
    expect(usable).toBeGreaterThan(6);
  }, 60_000);
});

describe('a file of format 1', () => {
  const old = new URL('../../fixtures/format1.run', import.meta.url).pathname;

  test('opens as it is, plays, and is not changed', async () => {
    const before = readFileSync(old);
    const run = new RunFile(old);
    expect(run.version).toBe(1);
    expect(run.moments).toEqual([]);
    expect(run.about.name).toBe('20261125T043500Z-1');
    run.close();
    expect(checkRun(old).findings).toEqual([]);
    expect(listed(old)).toMatchObject({ driven: null, isCut: false });
    const { counts } = await replayHash(old);
    expect(counts[1]).toBeGreaterThan(10); // sweeps of two seconds at 10 a second, less the start
    expect(readFileSync(old).equals(before)).toBe(true);
  });
});
