// The way of somebody who has just unpacked a sensor: every step of bring-up on a pseudo-terminal, from no configuration to a
// Clearance that agrees with the simulated truth.
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import WebSocket from 'ws';
import { loadConfig } from '../../src/config/load.js';
import { findLayout } from '../../src/device/layouts/builtIn.js';
import { BenchSensor, box, ROOM, rangeIn, sceneOf, soundSensor } from '../support/benchSensor.js';
import { serve, talk } from '../support/leeway.js';
import { hasPty, openPtyLine, type PtyLine } from '../support/ptyLine.js';

const isPty = hasPty();
const deg = Math.PI / 180;
const folder = mkdtempSync(join(tmpdir(), 'leeway-newcomer-'));
const port = join(folder, 'line');
const config = join(folder, 'leeway.yaml');
const report = join(folder, 'bringup.html');
const PATIENCE = 60; // s

/** The truth, which the person at the bench does not know: head down, turned by 100 degrees, 6 cm ahead, ranges 22 mm short. */
const MOUNT = { x: 0.06, y: 0, z: 0.2, yaw: 100 * deg, pitch: 0, roll: 0, upsideDown: true };
const RANGE = { offset: 0.022, scale: 1 };
/** A push bar's two posts behind the sensor, seen about the sensor from 150 to 160 and from -160 to -150 degrees at 0.2 m. */
const POSTS = [155, -155].map((middle) => ({ from: (middle - 5) * deg, to: (middle + 5) * deg }));
const postFaces = POSTS.map(({ from, to }) => [
  MOUNT.x + 0.2 * Math.cos(from),
  MOUNT.y + 0.2 * Math.sin(from),
  MOUNT.x + 0.2 * Math.cos(to),
  MOUNT.y + 0.2 * Math.sin(to),
]);
const boxAt = (x: number, y: number): number[][] => box(x - 0.15, y - 0.15, x + 0.15, y + 0.15);
const withBox = (x: number, y: number) => sceneOf([...box(-2.2, -1.8, 2.4, 2.0), ...boxAt(x, y)]);
const withBoard = (from: number) => {
  // square to the beam, straight ahead of the sensor's axis
  const x = MOUNT.x + from;
  return sceneOf([...box(-2.2, -1.8, 2.4, 2.0), [x, -0.3, x, 0.3]]);
};

let line: PtyLine;
let sensor: BenchSensor;

describe.skipIf(!isPty)('the way of a newcomer', () => {
  beforeAll(async () => {
    line = await openPtyLine(port);
    const sound = soundSensor(findLayout('packet12'));
    sensor = new BenchSensor(line, port, { ...sound, mount: MOUNT, range: RANGE, body: sceneOf(postFaces) });
  });
  afterAll(async () => {
    sensor?.stop();
    await line?.pull();
    rmSync(folder, { recursive: true, force: true });
  });

  test('ports: the port is there, free and allowed', { timeout: 20_000 }, async () => {
    const { code, stdout } = await talk(['ports', port, '--json'], PATIENCE).ended;
    expect(code).toBe(0);
    expect(JSON.parse(stdout)).toMatchObject({ ports: [{ path: port, allowed: true, findings: [] }] });
  });

  test('check: another layout than the default, stored in a new file', { timeout: 60_000 }, async () => {
    const sets = ['sensor.source=serial', `sensor.port=${port}`].flatMap((set) => ['--set', set]);
    const { code, stdout } = await talk(['check', ...sets, '--write', config], PATIENCE).ended;
    expect(stdout).toContain('[LAYOUT_OTHER]');
    expect(code).toBe(3);
    expect(loadConfig(config).sensor).toMatchObject({ source: 'serial', port, layout: 'packet12', baud: 230400 });
    // where it sits was measured with a ruler, and written by hand
    writeFileSync(
      config,
      `# my cart\n${readFileSync(config, 'utf8')}  mount:\n    x_m: 0.06 # with a ruler\n    z_m: 0.2\n`,
    );
  });

  test('aim: within 1 degree, and head down', { timeout: 60_000 }, async () => {
    const person = talk(['check', '--aim', '--config', config, '--write', config, '--json'], PATIENCE);
    await person.hear(/Step 1 of 3\..*Enter\./);
    person.enter();
    await person.hear(/Step 2 of 3\./);
    sensor.setting.world = withBox(1.15, 0);
    person.enter();
    await person.hear(/Step 3 of 3\./);
    sensor.setting.world = withBox(0, 1.15);
    person.enter();
    const { code, stdout, stderr } = await person.ended;
    sensor.setting.world = ROOM;
    expect(code, stdout + stderr).toBe(0);
    const { aim } = JSON.parse(stdout) as { aim: { yaw_rad: number; upside_down: boolean } };
    console.log(`aim: ${(aim.yaw_rad / deg).toFixed(2)} degrees for ${(MOUNT.yaw / deg).toFixed(2)}`);
    expect(Math.abs(aim.yaw_rad - MOUNT.yaw)).toBeLessThan(1 * deg);
    expect(aim.upside_down).toBe(true);
    expect(readFileSync(config, 'utf8')).toContain('# my cart');
    expect(readFileSync(config, 'utf8')).toContain('x_m: 0.06 # with a ruler');
  });

  test('mask: both posts, within one sample step', { timeout: 60_000 }, async () => {
    const person = talk(['check', '--mask', '--config', config, '--write', config, '--json'], PATIENCE);
    await person.hear(/Step 1 of 1\./);
    person.enter();
    const { code, stdout, stderr } = await person.ended;
    expect(code, stdout + stderr).toBe(0);
    const step = (2 * Math.PI * 10) / 4500;
    const masks = [...loadConfig(config).sensor.masks].sort((a, b) => b.from - a.from);
    expect(masks).toHaveLength(2);
    // the sensor's own yaw is known only as well as the aim: the edges are told from that
    const yawOff = loadConfig(config).sensor.mount.yaw - MOUNT.yaw;
    const off = masks.flatMap(({ from, to }, i) => [from - yawOff - POSTS[i].from, to - yawOff - POSTS[i].to]);
    console.log(
      `masks: edges off by ${off.map((x) => (x / deg).toFixed(2)).join(', ')} degrees; a step is ${(step / deg).toFixed(2)}`,
    );
    masks.forEach(({ upTo }, i) => {
      expect(off[2 * i]).toBeLessThanOrEqual(0.1 * step); // it covers the body ...
      expect(off[2 * i + 1]).toBeGreaterThanOrEqual(-0.1 * step);
      expect(off[2 * i]).toBeGreaterThanOrEqual(-step); // ... and no more than a step beyond
      expect(off[2 * i + 1]).toBeLessThanOrEqual(step);
      expect(upTo).toBeGreaterThan(0.2);
      expect(upTo).toBeLessThan(0.27);
    });
  });

  test('tape: offset within 2 mm', { timeout: 60_000 }, async () => {
    sensor.setting.world = withBoard(1.5);
    const person = talk(['check', '--tape', '1.50', '--config', config, '--write', config, '--json'], PATIENCE);
    await person.hear(/Step 1 of 1\./);
    person.enter();
    const { code, stdout, stderr } = await person.ended;
    sensor.setting.world = ROOM;
    expect(code, stdout + stderr).toBe(0);
    const { tape } = JSON.parse(stdout) as { tape: { offset_m: number; offset_sd_m: number } };
    console.log(
      `tape: offset ${(1000 * tape.offset_m).toFixed(2)} mm for ${1000 * RANGE.offset}, standard deviation ${(1000 * tape.offset_sd_m).toFixed(2)}`,
    );
    expect(Math.abs(tape.offset_m - RANGE.offset)).toBeLessThan(0.002);
  });

  test('check: sound, and the report is kept as the baseline', { timeout: 60_000 }, async () => {
    const { code, stdout } = await talk(['check', '--config', config, '--report', report, '--write', config], PATIENCE)
      .ended;
    expect(stdout).toContain('No findings.');
    expect(code).toBe(0);
    const page = readFileSync(report, 'utf8');
    expect(page.match(/<svg /g)).toHaveLength(4);
    expect(page).not.toMatch(/(?:src|href)=|https?:\/\/(?!www\.w3\.org)/); // it needs nothing else
    expect(loadConfig(config).sensor.baseline).toBe(report);
  });

  test('check again: nothing to tell; with twice the noise: worse than at bring-up', { timeout: 60_000 }, async () => {
    expect((await talk(['check', '--config', config, '--seconds', '5'], PATIENCE).ended).code).toBe(0);
    sensor.setting.noise = 2.2;
    const { code, stdout } = await talk(['check', '--config', config, '--seconds', '5'], PATIENCE).ended;
    sensor.setting.noise = 1;
    expect(stdout).toMatch(/noise is 2\.\d times that of bring-up.* \[BASELINE_WORSE\]/);
    expect(stdout).toContain('1 finding');
    expect(code).toBe(3);
  });

  test('serve: Clearance agrees with the truth', { timeout: 60_000 }, async () => {
    const daemon = await serve(['--config', config]);
    try {
      const { nearest, state } = await settledClearance(daemon.url);
      const truth = Array.from({ length: 72 }, (_, k) => nearestIn(k));
      const blind = POSTS.map(({ from, to }) => (from + to) / 2);
      let compared = 0;
      for (let k = 0; k < 72; k++) {
        const middle = (k + 0.5) * 5 * deg;
        const isHidden = blind.some((post) => Math.cos(post - middle) > Math.cos(14 * deg)); // behind a post nothing is seen
        if (isHidden) continue;
        compared++;
        expect(state[k], `sector ${k}`).toBe('SECTOR_STATE_OBSTACLE');
        expect(Math.abs(nearest[k] - truth[k]), `sector ${k}: ${nearest[k]} for ${truth[k]}`).toBeLessThan(
          0.04 + 0.02 * truth[k],
        );
      }
      expect(compared).toBeGreaterThan(55);
      expect(state.filter((one) => one === 'SECTOR_STATE_UNKNOWN').length).toBeGreaterThan(0); // the posts' shadows
    } finally {
      await daemon.stop();
    }
  });
});

/** @returns m, from the rover's origin to the nearest wall in sector k of 72. Rays every 0.1 degree: the walls are straight. */
function nearestIn(k: number): number {
  let nearest = Infinity;
  for (let tenth = 0; tenth <= 50; tenth++)
    nearest = Math.min(nearest, rangeIn(ROOM, 0, 0, (5 * k + tenth / 10) * deg));
  return nearest;
}

/** @returns the newest Clearance after 3 s, when all is seen. */
async function settledClearance(url: string): Promise<{ nearest: number[]; state: string[] }> {
  const socket = new WebSocket(`${url.replace('http', 'ws')}/v1/feeds`, 'leeway.v1.json');
  let newest: { nearestM: number[]; state: string[] } | undefined;
  socket.on('open', () => socket.send(JSON.stringify({ subscribe: { wants: [{ feed: 'FEED_CLEARANCE' }] } })));
  socket.on('message', (data) => {
    const { clearance } = JSON.parse(String(data)) as { clearance?: { nearestM: number[]; state: string[] } };
    newest = clearance ?? newest;
  });
  await new Promise((resolve) => setTimeout(resolve, 4000));
  socket.close();
  if (newest === undefined) throw new Error('no Clearance came');
  return { nearest: newest.nearestM.map(Number), state: newest.state };
}
