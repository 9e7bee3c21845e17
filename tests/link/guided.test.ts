// The guided measurements as their user meets them: what they say when the configuration is off, and how they end.
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { systemClock } from '../../src/core/clock.js';
import { findLayout } from '../../src/device/layouts/builtIn.js';
import { SerialLine } from '../../src/device/serialPort.js';
import { BenchSensor, type BenchSetting, box, sceneOf, soundSensor } from '../support/benchSensor.js';
import { type Dialogue, leeway, talk } from '../support/leeway.js';
import { hasPty, openPtyLine, type PtyLine } from '../support/ptyLine.js';

const folder = mkdtempSync(join(tmpdir(), 'leeway-guided-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));
const isPty = hasPty();
const deg = Math.PI / 180;
const MOUNT = { x: 0, y: 0, z: 0.2, yaw: 0, pitch: 0, roll: 0, upsideDown: false };
const WALLS = box(-2.2, -1.8, 2.4, 2.0);
let number = 0;

interface Scene {
  readonly line: PtyLine;
  readonly sensor: BenchSensor;
  readonly person: Dialogue;
}

/** Plays a sensor to one command; the script moves things about and presses Enter. */
async function guided(
  args: readonly string[],
  change: Partial<BenchSetting>,
  script: (scene: Scene) => Promise<void>,
): Promise<{ code: number | null; codes: string[]; told: Record<string, never>; stderr: string }> {
  const path = join(folder, `line${number++}`);
  const line = await openPtyLine(path);
  const sensor = new BenchSensor(line, path, { ...soundSensor(findLayout('packet12')), mount: MOUNT, ...change });
  const sets = ['sensor.source=serial', `sensor.port=${path}`, 'sensor.layout=packet12', 'sensor.mount.z_m=0.2'];
  const person = talk(['check', '--json', ...sets.flatMap((set) => ['--set', set]), ...args], 60);
  try {
    await script({ line, sensor, person });
    const { code, stdout, stderr } = await person.ended;
    const told = stdout === '' ? { findings: [] } : JSON.parse(stdout);
    return { code, stderr, told, codes: told.findings.map((finding: { code: string }) => finding.code) };
  } finally {
    sensor.stop();
    await line.pull();
  }
}
const justEnter = async ({ person }: Scene): Promise<void> => {
  await person.hear(/Step 1 of 1\./);
  person.enter();
};

describe.skipIf(!isPty)('a guided measurement', () => {
  test('aim: the configuration is off', { timeout: 60_000 }, async () => {
    const { code, codes } = await guided(
      ['--aim'],
      { mount: { ...MOUNT, yaw: 30 * deg } },
      async ({ person, sensor }) => {
        await person.hear(/Step 1 of 3\./);
        person.enter();
        await person.hear(/Step 2 of 3\./);
        sensor.setting.world = sceneOf([...WALLS, ...box(1, -0.15, 1.3, 0.15)]);
        person.enter();
        await person.hear(/Step 3 of 3\./);
        sensor.setting.world = sceneOf([...WALLS, ...box(-0.15, 1, 0.15, 1.3)]);
        person.enter();
      },
    );
    expect({ code, codes }).toEqual({ code: 3, codes: ['AIM_OFF'] });
  });

  test('level: pitch and roll within 0.3 degree on the line, and where the floor is', { timeout: 60_000 }, async () => {
    const mount = { ...MOUNT, pitch: 3 * deg, roll: -2 * deg };
    const change = { mount, turnRate: 36 * deg, world: sceneOf(box(-6, -5, 7, 5.5)) };
    const { code, codes, told } = await guided(['--level', '--seconds', '12'], change, justEnter);
    expect({ code, codes }).toEqual({ code: 3, codes: ['LEVEL_OFF', 'FLOOR_NEAR'] });
    const level = told.level as { pitch_rad: number; roll_rad: number; floor_m: number };
    console.log(
      `level: pitch ${(level.pitch_rad / deg).toFixed(2)} for 3, roll ${(level.roll_rad / deg).toFixed(2)} for -2 degrees`,
    );
    expect(Math.abs(level.pitch_rad - mount.pitch)).toBeLessThan(0.3 * deg);
    expect(Math.abs(level.roll_rad - mount.roll)).toBeLessThan(0.3 * deg);
    expect(level.floor_m).toBeCloseTo(0.2 / Math.hypot(Math.sin(3 * deg), Math.sin(2 * deg)), 1); // height / sin(tilt)
  });

  test('mask: the configuration has none', { timeout: 60_000 }, async () => {
    const change = { body: sceneOf([[-0.17, 0.04, -0.17, 0.12]]) };
    const { code, codes } = await guided(['--mask'], change, justEnter);
    expect({ code, codes }).toEqual({ code: 3, codes: ['MASKS_OFF'] });
  });

  test('tape: to the left, the range 4 cm off', { timeout: 60_000 }, async () => {
    const change = { range: { offset: 0.04, scale: 1 }, world: sceneOf([...WALLS, [-0.3, 1.2, 0.3, 1.2]]) };
    const { code, codes, told } = await guided(['--tape', '1.2', '--bearing', '90'], change, justEnter);
    expect({ code, codes }).toEqual({ code: 3, codes: ['TAPE_OFF'] });
    expect(Math.abs((told.tape as { offset_m: number }).offset_m - 0.04)).toBeLessThan(0.002);
  });

  test('nobody there to do the steps: nothing waits, and what is not seen is told', { timeout: 60_000 }, async () => {
    const { code, stderr } = await guided(['--aim', '--yes'], {}, async () => {});
    expect(code).toBe(1);
    expect(stderr).toMatch(/no box is seen that was not there before .*\[STEP_UNCLEAR\]/);
    expect(stderr).not.toContain('press Enter');
  });

  test('a signal ends it within 2 s, and the sensor is stopped', { timeout: 60_000 }, async () => {
    const path = join(folder, 'stopped');
    const line = await openPtyLine(path);
    const sensor = new BenchSensor(line, path, soundSensor(findLayout('sample5')));
    const person = talk(['check', '--set', 'sensor.source=serial', '--set', `sensor.port=${path}`], 60);
    await person.hear(/Looking for 10 s/);
    const before = line.received().length;
    const began = performance.now();
    person.kill('SIGINT');
    const { code } = await person.ended;
    expect(performance.now() - began).toBeLessThan(2000);
    expect(code).toBe(130);
    expect(line.received().slice(before)).toContain('a525');
    sensor.stop();
    await line.pull();
  });

  test('a held port cannot be looked at, and its holder is named', { timeout: 60_000 }, async () => {
    const path = join(folder, 'held');
    const line = await openPtyLine(path);
    const holder = new SerialLine(path, 115200, systemClock());
    await holder.open({ bytes: () => {}, closed: () => {} });
    const { code, stderr } = await leeway(['check', '--set', 'sensor.source=serial', '--set', `sensor.port=${path}`]);
    expect(code).toBe(1);
    expect(stderr).toContain(`(process ${process.pid})`);
    expect(stderr).toContain('[PORT_BUSY]');
    await holder.close();
    await line.pull();
  });
});

describe('without a line', () => {
  test('the simulated rover: only its glass door gives no echo', { timeout: 30_000 }, async () => {
    const { code, stdout } = await talk(['check', '--seconds', '4', '--json'], 30).ended;
    const { findings } = JSON.parse(stdout) as { findings: { code: string }[] };
    expect(new Set(findings.map((finding) => finding.code))).toEqual(new Set(['RETURNS_MISSING']));
    expect(code).toBe(3);
  });

  test.each([
    [['--aim', '--mask'], 'one at a time'],
    [['--bearing', '10'], 'goes with --tape'],
    [['--tape', '1', '--report', 'x.html'], 'does not go with'],
    [['--seconds', 'long'], 'a number, 2 to 600'],
    [['--tape', ''], 'a number'],
  ])('wrong use: %j', async (args, says) => {
    const { code, stdout, stderr } = await leeway(['check', ...args]);
    expect({ code, stdout }).toEqual({ code: 2, stdout: '' });
    expect(stderr).toContain(says);
  });

  test('a port that is not there, a baseline that is none', async () => {
    const gone = await leeway(['check', '--set', 'sensor.source=serial', '--set', 'sensor.port=/dev/ttyNone99']);
    expect(gone.code).toBe(1);
    expect(gone.stderr).toContain('[PORT_MISSING]');
    const bad = await leeway(['check', '--set', 'sensor.baseline=package.json']);
    expect(bad.code).toBe(1);
    expect(bad.stderr).toContain('[BASELINE_UNREADABLE]');
    expect((await leeway(['ports', '/dev/ttyNone99'])).stderr).toContain('[PORT_MISSING]');
  });
});
