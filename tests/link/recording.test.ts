// Recording as its user meets it: killed in the middle, rotated, short of room, a full disk, started and marked by a client.
import { chmodSync, existsSync, mkdirSync, mkdtempSync, readdirSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { connect } from '../../clients/typescript/src/client.js';
import { checkRun, repairRun } from '../../src/runs/check.js';
import { ENTRY } from '../../src/runs/format.js';
import { RunFile } from '../../src/runs/runFile.js';
import { until } from '../support/feedsClient.js';
import { leeway, serve } from '../support/leeway.js';
import { seededRandom } from '../support/random.js';

const SEED = Number(process.env.LEEWAY_SEED ?? 31);
const KILLS = Number(process.env.LEEWAY_KILLS ?? 4); // 50 for the figure that is asked for
const LOST_MAX = 1; // s

const folderOf = (): string => mkdtempSync(join(tmpdir(), 'leeway-record-'));
const runsIn = (folder: string): string[] => readdirSync(folder).filter((name) => name.endsWith('.run'));

/** @returns s of each chunk of the sensor's bytes, since the run began, and how many bytes there are. */
function chunks(path: string): { times: number[]; bytes: number; until: number } {
  const run = new RunFile(path);
  const times: number[] = [];
  let bytes = 0;
  for (let block = run.block(0); block; block = run.block(block.atUs + 1)) {
    for (const { kind, atUs, payload } of block.entries) {
      if (kind !== ENTRY.bytes) continue;
      times.push(atUs / 1e6);
      bytes += payload.length;
    }
  }
  expect(run.damage).toEqual({ badBlocks: 0, unreadable: 0 });
  const end = run.about.began_s + (times.at(-1) ?? 0);
  run.close();
  return { times, bytes, until: end };
}

describe('kill -9', () => {
  test(`at ${KILLS} random moments: the run opens, at most ${LOST_MAX} s is lost, nothing before it`, async () => {
    console.log(`seed ${SEED}`);
    const random = seededRandom(SEED);
    const lost: number[] = [];
    for (let i = 0; i < KILLS; i++) {
      const folder = folderOf();
      const daemon = await serve([
        '--set',
        'runs.record=true',
        '--set',
        `runs.folder=${folder}`,
        '--set',
        'simulator.world=shed',
      ]);
      await new Promise((resolve) => setTimeout(resolve, 900 + 2500 * random()));
      const killed = Date.now() / 1000;
      await daemon.stop('SIGKILL');
      const path = join(folder, runsIn(folder)[0]);
      const { times, bytes, until: end } = chunks(path);
      lost.push(killed - end);
      // the simulated line carries 2000 samples of 5 bytes a second, but for the answer to start: none is missing in the middle
      expect(bytes).toBeGreaterThan(9800 * (times[times.length - 1] - times[0]) - 200);
      const found = checkRun(path).findings;
      expect(found).toEqual(['its end is missing: it was cut off, or is being recorded']);
      expect(repairRun(path)).toContain('whole again');
      expect(checkRun(path).findings).toEqual([]);
      expect(readdirSync(folder)).toEqual([runsIn(folder)[0]]); // no side files are left
      expect(chunks(path).bytes).toBe(bytes);
    }
    lost.sort((a, b) => a - b);
    console.log(
      `lost at the end: median ${lost[lost.length >> 1].toFixed(3)} s, most ${lost[lost.length - 1].toFixed(3)} s of ${KILLS} kills`,
    );
    expect(lost[lost.length - 1]).toBeLessThan(LOST_MAX);
  }, 600_000);
});

describe('room', () => {
  test('a run that is long enough goes on in a new file, and says from which; nothing is lost between them', async () => {
    const folder = folderOf();
    const daemon = await serve([
      ...['--set', 'runs.record=true', '--set', `runs.folder=${folder}`, '--set', 'runs.file_max_s=1.5'],
      ...['--set', 'simulator.world=shed'],
    ]);
    await until(() => existsSync(folder) && runsIn(folder).length >= 3, 'a third file', 20);
    await daemon.stop();
    const names = runsIn(folder).sort();
    const runs = names.map((name) => new RunFile(join(folder, name)));
    expect(runs[1].about.continues).toBe(runs[0].about.name);
    expect(runs[2].about.continues).toBe(runs[1].about.name);
    for (const run of runs) run.close();
    const [first, second] = names.map((name) => chunks(join(folder, name)));
    const began = runs[1].about.began_s + second.times[0];
    expect(began - first.until).toBeLessThan(0.1); // chunks come every 4 ms; a busy machine makes it more
    for (const name of names) expect(checkRun(join(folder, name)).findings).toEqual([]);
  });

  test('the oldest that are not pinned make room; a pinned one stays', async () => {
    const folder = folderOf();
    const old = ['20200101T000000Z-1', '20200102T000000Z-1'];
    for (const name of old) {
      const first = await serve([
        '--set',
        'runs.record=true',
        '--set',
        `runs.folder=${folder}`,
        '--set',
        'simulator.world=shed',
      ]);
      await new Promise((resolve) => setTimeout(resolve, 700));
      await first.stop();
      const [made] = runsIn(folder).filter((file) => !old.includes(file.replace('.run', '')));
      const { renameSync } = await import('node:fs');
      renameSync(join(folder, made), join(folder, `${name}.run`));
    }
    const { code, stdout } = await leeway(['runs', 'pin', old[0], '--set', `runs.folder=${folder}`]);
    expect([code, stdout]).toEqual([0, `${old[0]} pinned\n`]);
    const daemon = await serve([
      ...['--set', 'runs.record=true', '--set', `runs.folder=${folder}`],
      ...['--set', 'runs.total_max_mb=0.1', '--set', 'runs.file_max_mb=0.1', '--set', 'simulator.world=shed'],
    ]);
    await until(() => !existsSync(join(folder, `${old[1]}.run`)), 'the old one gone', 30);
    await daemon.stop();
    expect(runsIn(folder)).toContain(`${old[0]}.run`);
  });

  test('a full disk stops recording with a finding while the service goes on; it can be started again', async () => {
    const folder = folderOf();
    const daemon = await serve(['--set', `runs.folder=${folder}`, '--set', 'runs.free_min_mb=1000000']);
    const rover = connect(daemon.url, { wants: ['clearance', 'health', 'run'] });
    await until(() => rover.run !== undefined, 'a RunEvent', 10);
    expect(rover.run?.state).toBe('idle');
    rover.send({ record: { on: true } });
    const codes = (): string[] => (rover.health?.findings ?? []).map(({ code }) => code);
    await until(() => codes().includes('RUN_DISK_FULL'), 'the finding', 10);
    expect(rover.run?.state).toBe('idle');
    expect(rover.isStale).toBe(false);
    await until(() => rover.health?.state === 'ok', 'sound senses', 10);
    rover.close();
    const { code } = await daemon.stop();
    expect(code).toBe(0);
  });

  test.skipIf(process.getuid?.() === 0)('a folder that cannot be written: a finding, and service', async () => {
    const folder = folderOf();
    chmodSync(folder, 0o555);
    const daemon = await serve(['--set', 'runs.record=true', '--set', `runs.folder=${folder}`]);
    const rover = connect(daemon.url, { wants: ['health'] });
    await until(() => rover.health?.findings.some(({ code }) => code === 'RUN_UNWRITABLE') === true, 'the finding', 10);
    rover.close();
    await daemon.stop();
  });
  if (process.getuid?.() === 0) console.log('skipped: a folder that cannot be written: root may write everywhere');

  test('a folder that is a file: a finding, and service', async () => {
    const folder = join(folderOf(), 'runs');
    writeFileSync(folder, '');
    const daemon = await serve(['--set', 'runs.record=true', '--set', `runs.folder=${folder}`]);
    const rover = connect(daemon.url, { wants: ['health'] });
    await until(() => rover.health?.findings.some(({ code }) => code === 'RUN_UNWRITABLE') === true, 'the finding', 10);
    rover.close();
    await daemon.stop();
  });
});

describe('a client', () => {
  test('starts, titles, marks, pins and stops a run, sees it in the list and plays it', async () => {
    const folder = folderOf();
    mkdirSync(folder, { recursive: true });
    const daemon = await serve(['--set', `runs.folder=${folder}`]);
    const rover = connect(daemon.url, { wants: ['run'] });
    const what: string[] = [];
    rover.on('run', (run) => what.push(run.what));
    await until(() => rover.isConnected && rover.run !== undefined, 'connected', 10);
    rover.send({ record: { on: true, title: 'round one' } });
    await until(() => rover.hello?.run !== '', 'Hello names the run', 10);
    const name = rover.hello?.run ?? '';
    rover.send({ mark: { text: 'here it wobbled' } });
    rover.send({ keep: { pinned: true } });
    await new Promise((resolve) => setTimeout(resolve, 1500));
    rover.send({ record: { on: false } });
    await until(() => what.includes('stopped') && rover.hello?.run === '', 'stopped', 10);
    expect(what.filter((each) => each !== 'state')).toEqual(['started', 'mark', 'pinned', 'stopped']);
    const list = await (await fetch(`${daemon.url}/v1/runs`)).json();
    expect(list.runs[0]).toMatchObject({ name, title: 'round one', pinned: true, marks: 1, cut: false });
    const shown = await (await fetch(`${daemon.url}/v1/runs/${name}`)).json();
    expect(shown.events.find(({ kind }: { kind: string }) => kind === 'mark').text).toBe('here it wobbled');
    const replay = connect(daemon.url, { wants: ['sweep'], run: name });
    await until(() => replay.sweep !== undefined, 'a sweep of the run', 10);
    expect(replay.hello).toMatchObject({ source: 'run', run: name });
    replay.send({ replay: { paused: true } });
    await until(() => replay.run?.state === 'paused', 'paused', 10);
    replay.send({ replay: { pace: 0, paused: false } });
    await until(() => replay.run?.state === 'ended', 'ended', 10);
    expect(rover.isStale).toBe(false); // live goes on beside it
    const missing = await fetch(`${daemon.url}/v1/runs/20000101T000000Z-1`);
    expect([missing.status, (await missing.json()).code]).toEqual([404, 'RUN_NOT_FOUND']);
    const outside = await fetch(`${daemon.url}/v1/runs/${encodeURIComponent('../../etc/passwd')}`);
    expect(outside.status).toBe(404);
    rover.send({ keep: { run: name, remove: true } });
    await until(() => what.includes('removed'), 'removed', 10);
    expect(runsIn(folder)).toEqual([]);
    rover.close();
    replay.close();
    await daemon.stop();
    expect(statSync(folder).isDirectory()).toBe(true);
  });
});
