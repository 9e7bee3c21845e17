// `leeway runs ...` and `process RUN` as their user runs them, on the built program; the report looked at in a browser.
import { copyFileSync, existsSync, mkdtempSync, readFileSync, truncateSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { chromium } from 'playwright-core';
import { beforeAll, describe, expect, test } from 'vitest';
import { connect } from '../../clients/typescript/src/client.js';
import { faultCodes } from '../../src/core/fault.js';
import { until } from '../support/feedsClient.js';
import { leeway, serve } from '../support/leeway.js';
import { recordedRun } from '../support/recordedRun.js';

const BROWSER = '/usr/bin/chromium';
const folder = mkdtempSync(join(tmpdir(), 'leeway-cli-runs-'));
const at = ['--set', `runs.folder=${folder}`];
const NAME = '20260101T000000Z-1'; // the fake clock's beginning
let path = '';
beforeAll(async () => {
  const made = await recordedRun(15, ['simulator.world=nursery']);
  path = join(folder, `${NAME}.run`);
  copyFileSync(made, path);
}, 60_000);

describe('runs list and show', () => {
  test('for people', async () => {
    const { code, stdout } = await leeway(['runs', 'list', ...at]);
    expect(code).toBe(0);
    expect(stdout.split('\n')[1]).toMatch(
      /^20260101T000000Z-1 {2}2026-01-01 00:00:00 +1\d\.\d s +\d+\.\d\d m +\d\.\d\d m +\d+ kB +0/,
    );
    const shown = await leeway(['runs', 'show', NAME, ...at]);
    expect(shown.stdout).toContain('rover rover, simulated simulated, recorded by version test, format 2');
    expect(shown.stdout).toContain('leeway ahead');
  });

  test('for programs', async () => {
    const row = JSON.parse((await leeway(['runs', 'list', '--json', ...at])).stdout);
    expect(row).toMatchObject({ name: NAME, rover: 'rover', pinned: false, cut: false, marks: 0 });
    expect(row.drivenM).toBeGreaterThan(1);
    const shown = JSON.parse((await leeway(['runs', 'show', NAME, '--json', ...at])).stdout);
    for (const event of shown.events)
      expect(event).toMatchObject({ atS: expect.any(Number), kind: expect.any(String) });
  });

  test('an empty folder, and a name that is none', async () => {
    const empty = mkdtempSync(join(tmpdir(), 'leeway-none-'));
    expect((await leeway(['runs', 'list', '--set', `runs.folder=${empty}`])).stdout).toBe(`no runs in ${empty}\n`);
    const { code, stderr } = await leeway(['runs', 'show', 'nothing', ...at]);
    expect([code, stderr]).toEqual([
      1,
      expect.stringMatching(/^leeway: there is no such run .*\[RUN_NOT_FOUND\]\. Do: .*\n$/),
    ]);
  });
});

describe('process', () => {
  test('a run: one line a sweep, the same every time', async () => {
    const first = await leeway(['process', path]);
    expect(first.code).toBe(0);
    const lines = first.stdout
      .trim()
      .split('\n')
      .map((line) => JSON.parse(line));
    expect(lines.length).toBeGreaterThan(120);
    expect(Object.keys(lines[0])).toEqual(['sweep', 'timeS', 'clearance', 'shapes', 'movers', 'motion']);
    expect(first.stderr).toBe(`${lines.length} sweeps\n`);
    expect((await leeway(['process', path])).stdout).toBe(first.stdout);
  });

  test('a run that is cut: what can be read, then a code', async () => {
    const cut = join(folder, 'cut.run');
    copyFileSync(path, cut);
    truncateSync(cut, Math.floor(readFileSync(path).length * 0.6));
    const { code, stdout, stderr } = await leeway(['process', cut]);
    expect(code).toBe(1);
    expect(stdout.trim().split('\n').length).toBeGreaterThan(40);
    expect(stderr).toContain('[RUN_DAMAGED]');
    const check = await leeway(['runs', 'check', cut]);
    expect(check.code).toBe(3);
    const repaired = await leeway(['runs', 'check', cut, '--repair']);
    expect(repaired.stdout).toContain('saved in cut');
    expect((await leeway(['runs', 'check', cut])).stdout).toContain('sound');
  });
});

describe('serve with sensor.source: run', () => {
  test('the daemon of that day again: feeds, readiness, its name; a client with the role drive steers it', async () => {
    const daemon = await serve([...at, '--set', 'sensor.source=run', '--set', `runs.play=${NAME}`]);
    expect(daemon.log[0]).toMatchObject({ source: 'run', run: NAME });
    const rover = connect(daemon.url, { wants: ['clearance', 'health', 'motion', 'run'] });
    await until(() => rover.hello?.run === NAME && rover.health?.state === 'ok', 'sound senses of the day', 10);
    expect(rover.hello?.source).toBe('run');
    expect((await fetch(`${daemon.url}/readyz`)).status).toBe(200);
    rover.send({ replay: { atS: (rover.run?.fromS ?? 0) + 10, paused: true } });
    await until(() => rover.run?.state === 'paused' && rover.run.atS > rover.run.fromS + 9.9, 'paused at 10 s', 10);
    expect(rover.motion?.xM).toBeGreaterThan(1); // the way driven until then, though perception began anew there
    rover.send({ replay: { pace: 0, paused: false } });
    await until(() => rover.run?.state === 'ended', 'the end', 20);
    rover.close();
    expect((await daemon.stop()).code).toBe(0);
  });

  test('no run to play: a code, and the end', async () => {
    const empty = mkdtempSync(join(tmpdir(), 'leeway-none-'));
    const { code, stderr } = await leeway(['serve', '--set', 'sensor.source=run', '--set', `runs.folder=${empty}`]);
    expect([code, stderr]).toEqual([1, expect.stringContaining('[RUN_NOT_FOUND]')]);
  });
});

describe('runs report and compare', () => {
  const page = join(folder, 'report.html');

  test('a page that needs nothing but itself', async () => {
    const { code, stdout } = await leeway(['runs', 'report', NAME, '--out', page, ...at]);
    expect([code, stdout]).toEqual([0, `${page}\n`]);
    const html = readFileSync(page, 'utf8');
    expect(html).not.toMatch(/(?:src|href)=|url\((?!#)|@import|<script/); // neither loads nor runs anything
    expect(html).not.toMatch(/NaN|Infinity|undefined|\[object/);
    for (const part of ['Where it went', 'Closest approaches', 'Range noise', 'Health', 'No safety function'])
      expect(html).toContain(part);
  });

  test.skipIf(!existsSync(BROWSER))('shows its drawings in a browser, without an error, and prints', async () => {
    const browser = await chromium.launch({ executablePath: BROWSER, args: ['--no-sandbox', '--disable-gpu'] });
    try {
      const tab = await browser.newPage({ viewport: { width: 1200, height: 900 } });
      const errors: string[] = [];
      tab.on('console', (message) => void errors.push(message.text()));
      tab.on('pageerror', (error) => void errors.push(String(error)));
      await tab.goto(`file://${page}`);
      const boxes = await tab
        .locator('section svg:not(.sign)')
        .evaluateAll((drawings) => drawings.map((each) => each.getBoundingClientRect().height));
      expect(boxes.length).toBeGreaterThanOrEqual(3);
      for (const height of boxes) expect(height).toBeGreaterThan(50);
      for (const width of [1200, 390]) {
        await tab.setViewportSize({ width, height: 900 });
        expect(await tab.evaluate('document.documentElement.scrollWidth')).toBeLessThanOrEqual(width);
      }
      expect((await tab.pdf()).length).toBeGreaterThan(10_000);
      expect(errors).toEqual([]);
    } finally {
      await browser.close();
    }
  });
  if (!existsSync(BROWSER)) console.log('skipped: the report in a browser: chromium is not installed');

  test('two settings over one run: listed and drawn', async () => {
    const out = join(folder, 'compare.html');
    const wish = ['--with', 'clearance.no_return=clear', '--with', 'clearance.no_return_m=0.6'];
    const { code, stdout } = await leeway(['runs', 'compare', NAME, ...wish, '--out', out, ...at]);
    expect(code).toBe(0);
    const figures = /bearings vouched for, mean +([\d.]+) +([\d.]+) %/.exec(stdout) ?? [];
    expect(Number(figures[2])).toBeGreaterThan(Number(figures[1])); // what comes back empty now vouches
    expect(readFileSync(out, 'utf8')).toContain('clearance.no_return=clear');
    const same = JSON.parse(
      (await leeway(['runs', 'compare', NAME, '--with', 'clearance.urgent_m=2', '--json', ...at])).stdout,
    );
    for (const { a, b } of same.differences) expect(b).toBe(a);
    const none = await leeway(['runs', 'compare', NAME, ...at]);
    expect([none.code, none.stderr]).toEqual([2, expect.stringContaining('nothing to compare with')]);
  });
});

test('every code of runs is in the catalogue', () => {
  for (const code of [
    'RUN_EMPTY',
    'RUN_FOREIGN',
    'RUN_NEWER',
    'RUN_DAMAGED',
    'RUN_NOT_FOUND',
    'RUN_DISK_FULL',
    'RUN_UNWRITABLE',
  ])
    expect(faultCodes()).toContain(code);
});
