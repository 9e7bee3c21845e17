// What is exported, asked by an independent reader (DuckDB): the queries of deploy/RUNS.md as they stand there.
import { mkdtempSync, readdirSync, readFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { DuckDBInstance } from '@duckdb/node-api';
import { beforeAll, describe, expect, test } from 'vitest';
import { playThrough } from '../../../src/cli/playThrough.js';
import { replaySettings } from '../../../src/cli/replay.js';
import { runsExport } from '../../../src/cli/runExport.js';
import { runsImport } from '../../../src/cli/runImport.js';
import { Feed } from '../../../src/messages/codec.js';
import { TABLE_NAMES, TABLES } from '../../../src/runs/export/tables.js';
import { RunFile } from '../../../src/runs/runFile.js';
import { recordedRun } from '../../support/recordedRun.js';

const out = mkdtempSync(join(tmpdir(), 'leeway-export-'));
const DOCS = readFileSync('deploy/RUNS.md', 'utf8');
const QUERIES = [...DOCS.matchAll(/```sql\n([\s\S]*?)```/g)].map(([, sql]) => sql.replaceAll("'export/", `'${out}/`));
const runs: string[] = [];

type Row = Record<string, number | string | null>;
async function ask(sql: string): Promise<Row[]> {
  const connection = await (await DuckDBInstance.create(':memory:')).connect();
  const rows = (await connection.runAndReadAll(sql)).getRowObjectsJson() as Record<string, unknown>[];
  connection.closeSync();
  return rows.map((row) =>
    Object.fromEntries(
      Object.entries(row).map(([name, value]) => [
        name,
        typeof value === 'string' && /^-?\d+(\.\d+)?$/.test(value) ? Number(value) : (value as number | string | null),
      ]),
    ),
  );
}
const all = (table: string): string => `read_parquet('${out}/${table}/**/*.parquet', hive_partitioning = true)`;

beforeAll(async () => {
  // two rovers: one in a shed, one in the nursery where people walk
  runs.push(
    await recordedRun(8, ['rover.name=cart one']),
    await recordedRun(12, ['rover.name=cart-2', 'simulator.world=nursery']),
  );
  for (const path of runs) await runsExport([path], { out });
  await runsExport([runs[0]], { out, format: 'csv' });
  await runsExport([runs[0]], { out, format: 'ndjson', tables: 'motion, events' });
}, 120_000);

describe('the queries of the documentation', () => {
  test('are three', () => expect(QUERIES.length).toBe(3));

  test('lost echoes by bearing: every 30 degrees, in all as many samples as the sweeps hold', async () => {
    const rows = await ask(QUERIES[0]);
    const carts = rows.filter(({ rover }) => rover === 'cart one');
    expect(carts.map(({ from_deg }) => from_deg)).toEqual([-180, -150, -120, -90, -60, -30, 0, 30, 60, 90, 120, 150]);
    const [{ samples }] = await ask(`SELECT sum(samples) AS samples FROM ${all('sweeps')} WHERE rover = 'cart one'`);
    expect(carts.reduce((sum, row) => sum + Number(row.samples), 0)).toBe(samples);
    for (const { lost_share } of carts) expect(lost_share).toBeGreaterThanOrEqual(0);
    // the simulated sensor drops 1.5 % everywhere; in the shed nothing else swallows echoes in every direction
    expect(Math.min(...carts.map((row) => Number(row.lost_share)))).toBeLessThan(0.05);
  });

  test('way and time under way, as the poses say it', async () => {
    const rows = await ask(QUERIES[1]);
    expect(rows.map(({ rover }) => rover)).toEqual(['cart one', 'cart-2']);
    const [far] = await ask(
      `SELECT sqrt(pow(last(x_m ORDER BY time_s) - first(x_m ORDER BY time_s), 2) + pow(last(y_m ORDER BY time_s) - first(y_m ORDER BY time_s), 2)) AS far_m FROM ${all('motion')} WHERE rover = 'cart-2'`,
    );
    const cart = rows[1];
    expect(Number(cart.driven_m)).toBeGreaterThan(Number(far.far_m) - 0.1); // a way is no shorter than the straight line
    expect(Number(cart.driven_m)).toBeLessThan(12 * 0.6);
    expect(cart.vouched_share).toBeGreaterThan(0.3);
    expect(cart.vouched_share).toBeLessThanOrEqual(1);
  });

  test('how fast it went when somebody was near: only what is near, with a speed that the rover can have', async () => {
    for (const { closest_m, rover_mps } of await ask(QUERIES[2])) {
      expect(closest_m).toBeLessThan(1);
      expect(rover_mps).toBeLessThan(0.8);
    }
  });
});

describe('the tables', () => {
  test('say what the feeds said, row by row', async () => {
    const run = new RunFile(runs[0]);
    const sweeps: Array<{ number: number; echoes: number; range: number }> = [];
    let walls = 0;
    await playThrough(run, replaySettings(run, undefined, []), '', ({ feed, message }) => {
      if (feed === Feed.FEED_SHAPES) walls += message.shapes?.walls?.length ?? 0;
      if (feed !== Feed.FEED_SWEEP) return;
      const ranges = message.sweep?.rangeMm ?? [];
      sweeps.push({
        number: message.sweep?.number ?? 0,
        echoes: ranges.filter((range) => range !== 0).length,
        range: ranges.reduce((a, b) => a + b, 0) / 1000,
      });
    });
    run.close();
    const rows = await ask(
      `SELECT sweep, count(range_m) AS echoes, sum(CAST(range_m AS DOUBLE)) AS range FROM ${all('echoes')} WHERE rover = 'cart one' GROUP BY sweep ORDER BY sweep`,
    );
    expect(rows.length).toBe(sweeps.length);
    for (const [i, { number, echoes, range }] of sweeps.entries()) {
      expect([rows[i].sweep, rows[i].echoes]).toEqual([number, echoes]);
      expect(Number(rows[i].range)).toBeCloseTo(range, 2);
    }
    const [counted] = await ask(`SELECT count(*) AS walls FROM ${all('walls')} WHERE rover = 'cart one'`);
    expect(counted.walls).toBe(walls);
  });

  test('have units in their names, are in folders by rover and day, and leave no parts behind', async () => {
    const columns = Object.values(TABLES)
      .flat()
      .map(({ name }) => name);
    const bare = new Set([
      'run',
      'sweep',
      'samples',
      'echoes',
      'strength',
      'sector',
      'state',
      'confidence',
      'mover',
      'quality',
      'kind',
      'text',
    ]);
    expect(columns.filter((name) => !bare.has(name) && !/_(m|s|rad|mps|radps)$/.test(name))).toEqual([]);
    const files = readdirSync(out, { recursive: true, encoding: 'utf8' }).filter((name) => name.includes('.'));
    expect(files.filter((name) => name.endsWith('.part'))).toEqual([]);
    expect(
      files
        .filter((name) => name.endsWith('.parquet'))
        .map((name) => dirname(name))
        .sort(),
    ).toEqual(
      TABLE_NAMES.flatMap((table) => [
        `${table}/rover=cart%20one/day=2026-01-01`,
        `${table}/rover=cart-2/day=2026-01-01`,
      ]).sort(),
    );
  });

  test('say the same as CSV and as NDJSON', async () => {
    const csv = `read_csv('${out}/motion/rover=cart%20one/**/*.csv')`;
    const ndjson = `read_json('${out}/motion/rover=cart%20one/**/*.ndjson')`;
    const sums =
      'count(*) AS n, round(sum(x_m), 4) AS x, round(sum(heading_rad), 4) AS heading, count(quality) AS quality';
    const [parquet] = await ask(`SELECT ${sums} FROM ${all('motion')} WHERE rover = 'cart one'`);
    expect(await ask(`SELECT ${sums} FROM ${csv}`)).toEqual([parquet]);
    expect(await ask(`SELECT ${sums} FROM ${ndjson}`)).toEqual([parquet]);
  });
});

describe('import', () => {
  const folder = mkdtempSync(join(tmpdir(), 'leeway-import-'));
  const file = join(folder, 'sweeps.ndjson');
  const options = { set: [`runs.folder=${folder}`] };
  // a round room of 3 m: told by the closed form, whatever the bearing
  const line = (k: number): string =>
    JSON.stringify({
      t: 1000 + k / 10,
      dt: 0.1 / 360,
      bearings: Array.from({ length: 360 }, (_, i) => (i * Math.PI) / 180 - Math.PI),
      ranges: Array.from({ length: 360 }, () => 3),
    });

  test('a sweep a line becomes a run that plays them as they were', async () => {
    const { writeFileSync } = await import('node:fs');
    writeFileSync(file, `${Array.from({ length: 30 }, (_, k) => line(k)).join('\n')}\n`);
    await runsImport(file, options, 'test');
    const name = readdirSync(folder).find((each) => each.endsWith('.run')) ?? '';
    const run = new RunFile(join(folder, name));
    expect(name).toBe('19700101T001640Z-1.run'); // 1000 s of Unix time
    let sweeps = 0;
    let nearest: number[] = [];
    await playThrough(run, replaySettings(run, undefined, []), '', ({ message }) => {
      if (message.sweep) {
        sweeps++;
        expect(message.sweep.rangeMm?.every((range) => range === 3000)).toBe(true);
      }
      if (message.clearance) nearest = message.clearance.nearestM ?? [];
    });
    expect(sweeps).toBe(30);
    expect(nearest.length).toBe(72);
    for (const value of nearest) expect(value).toBeCloseTo(3, 5);
    run.close();
  });

  test('a bad line leaves nothing behind', async () => {
    const { writeFileSync } = await import('node:fs');
    writeFileSync(file, `${line(0)}\n{"t":1}\n`);
    const before = readdirSync(folder);
    await expect(runsImport(file, options, 'test')).rejects.toMatchObject({
      code: 'INPUT_LINE_BAD',
      facts: { line: 2 },
    });
    expect(readdirSync(folder)).toEqual(before);
  });
});
