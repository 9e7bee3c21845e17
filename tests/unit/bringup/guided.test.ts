// The guided measurements against the simulated truth (closed forms: rotation matrices, rays against walls), at the noise of a
// cheap sensor, over random mountings with a printed seed. Limits are those of the issue.
import { describe, expect, test } from 'vitest';
import { aimOf, backgroundOf, boxBefore } from '../../../src/bringup/aim.js';
import { levelOf } from '../../../src/bringup/level.js';
import { isCovered, masksOf } from '../../../src/bringup/mask.js';
import { pairOf, tapeOf } from '../../../src/bringup/tape.js';
import { turnedBy } from '../../../src/cli/check/turned.js';
import { wrapAngle } from '../../../src/core/angles.js';
import { Fault } from '../../../src/core/fault.js';
import { findLayout } from '../../../src/device/layouts/builtIn.js';
import type { SensorSetting } from '../../../src/device/setting.js';
import { DEFAULT_NOISE } from '../../../src/estimate/noise.js';
import { Outline } from '../../../src/geometry/outline.js';
import { Random } from '../../../src/simulator/random.js';
import { type BenchSetting, benchSweeps, box, ROOM, sceneOf, soundSensor } from '../../support/benchSensor.js';

const deg = Math.PI / 180;
const SEED = Number(process.env.LEEWAY_SEED ?? 2026);
const WALLS = box(-2.2, -1.8, 2.4, 2.0);
const HALL = sceneOf(box(-6, -5, 7, 5.5));
const OUTLINE = new Outline([
  [0.2, 0.16],
  [-0.2, 0.16],
  [-0.2, -0.16],
  [0.2, -0.16],
]);
const mountAt = (x: number, y: number): SensorSetting['mount'] => ({
  x,
  y,
  z: 0.2,
  yaw: 0,
  pitch: 0,
  roll: 0,
  upsideDown: false,
});
const neutral = (mount: SensorSetting['mount']): SensorSetting => ({
  mount: { ...mount, yaw: 0, upsideDown: false },
  reach: [0.15, 12],
  range: { offset: 0, scale: 1 },
  masks: [],
});
const unclear = (act: () => unknown): string => {
  try {
    act();
  } catch (error) {
    if (error instanceof Fault && error.code === 'STEP_UNCLEAR') return error.message;
    throw error;
  }
  throw new Error('nothing was unclear');
};

describe('aim', () => {
  const look = (setting: BenchSetting, seed: number, ...boxes: number[][]) =>
    benchSweeps({ ...setting, world: sceneOf([...WALLS, ...boxes]) }, neutral(setting.mount), 3, seed);
  const side = (x: number, y: number): number[][] => box(x - 0.15, y - 0.15, x + 0.15, y + 0.15);

  test.each(['sample5', 'packet12', 'index22'])('%s: within 1 degree, mirrored or not', (name) => {
    const dice = new Random(SEED);
    let worst = 0;
    for (let trial = 0; trial < 8; trial++) {
      const mount = {
        ...mountAt(0.2 * dice.uniform() - 0.1, 0.2 * dice.uniform() - 0.1),
        yaw: (2 * dice.uniform() - 1) * Math.PI,
        upsideDown: dice.uniform() < 0.5,
      };
      const setting = { ...soundSensor(findLayout(name)), mount };
      const background = backgroundOf(look(setting, trial));
      const ahead = boxBefore(background, look(setting, 100 + trial, ...side(1.15, 0)));
      const left = boxBefore(background, look(setting, 200 + trial, ...side(0, 1.15)));
      const aim = aimOf(ahead, left, mount);
      worst = Math.max(worst, Math.abs(wrapAngle(aim.yaw - mount.yaw)));
      expect(aim.upsideDown).toBe(mount.upsideDown);
      expect(ahead.width).toBeGreaterThan(0.24);
      expect(ahead.width).toBeLessThan(0.36);
    }
    console.log(`aim, ${name}, seed ${SEED}: off by ${(worst / deg).toFixed(2)} degrees at most`);
    expect(worst).toBeLessThan(1 * deg);
  });

  test('no box, two boxes, a box behind instead of to the left', () => {
    const setting = soundSensor(findLayout('packet12'));
    const background = backgroundOf(look(setting, 1));
    expect(unclear(() => boxBefore(background, look(setting, 2)))).toContain('no box is seen');
    expect(unclear(() => boxBefore(background, look(setting, 3, ...side(1.15, 0), ...side(0, -1.15))))).toContain(
      'two things are new',
    );
    const ahead = boxBefore(background, look(setting, 4, ...side(1.15, 0)));
    const behind = boxBefore(background, look(setting, 5, ...side(-1.15, 0)));
    expect(unclear(() => aimOf(ahead, behind, setting.mount))).toContain('instead of about 90');
  });
});

describe('level', () => {
  const turn = (setting: BenchSetting, seconds: number, seed: number) =>
    benchSweeps(
      { ...setting, world: HALL, turnRate: 18 * deg },
      { ...neutral(setting.mount), mount: setting.mount },
      seconds,
      seed,
    );

  test.each(['sample5', 'packet12'])(
    '%s: pitch and roll within 0.3 degree, and where the beam meets the floor',
    (name) => {
      const dice = new Random(SEED);
      let worst = 0;
      for (let trial = 0; trial < 6; trial++) {
        const tilt = (2.2 + 5 * dice.uniform()) * deg;
        const aim = 2 * Math.PI * dice.uniform();
        const mount = {
          ...mountAt(0.05, 0),
          pitch: tilt * Math.cos(aim),
          roll: tilt * Math.sin(aim),
          yaw: 2 * dice.uniform(),
          upsideDown: trial % 2 === 1,
        };
        const sweeps = turn({ ...soundSensor(findLayout(name)), mount }, 20, trial);
        const found = levelOf(sweeps, mount.z, 12, DEFAULT_NOISE);
        const turned = turnedBy(sweeps, found, { x: mount.x, y: mount.y, reach: [0.15, 12], noise: DEFAULT_NOISE });
        expect(turned / deg).toBeCloseTo(((sweeps.length - 1) / soundSensor(findLayout(name)).spin(9)) * 18, -1);
        if (found.kind !== 'tilted') throw new Error(`tilt of ${tilt / deg} degrees not seen`);
        worst = Math.max(worst, Math.abs(found.pitch - mount.pitch), Math.abs(found.roll - mount.roll));
        expect(found.range).toBeCloseTo(mount.z / Math.sin(tilt), 0);
      }
      console.log(`level, ${name}, seed ${SEED}: off by ${(worst / deg).toFixed(3)} degrees at most`);
      expect(worst).toBeLessThan(0.3 * deg);
    },
  );

  test('a level sensor: no floor is made up, and the bound holds', () => {
    const setting = soundSensor(findLayout('packet12'));
    const found = levelOf(turn(setting, 20, 1), 0.15, 12, DEFAULT_NOISE);
    expect(found.kind).toBe('level');
    if (found.kind === 'level') expect(found.bound).toBeLessThan(2.5 * deg); // the wall nearest in the turn is 5 m off: 0.15 / 5 is 1.7 degrees
  });

  test('a rover that drives along a wall in place of turning: the wall stays put, but it has not turned', () => {
    const setting = soundSensor(findLayout('packet12'));
    const sweeps = Array.from({ length: 100 }, (_, i) => {
      const world = sceneOf(box(-3 - 0.04 * i, -1.4, 9 - 0.04 * i, 5.5));
      return benchSweeps({ ...setting, world }, neutral(setting.mount), 0.25, i).slice(0, 1);
    }).flat();
    sweeps.forEach((sweep, i) => {
      const later = 0.1 * i - sweep.firstTime;
      sweeps[i] = { ...sweep, firstTime: 0.1 * i, time: sweep.time.map((time) => time + later) };
    });
    const found = levelOf(sweeps, 0.15, 12, DEFAULT_NOISE);
    expect(found.kind).toBe('tilted'); // which is why the turn is asked for
    const sensor = { x: 0, y: 0, reach: [0.15, 12], noise: DEFAULT_NOISE } as const;
    expect(turnedBy(sweeps, found, sensor)).toBeLessThan(20 * deg);
  });

  test('a rover that was not turned', () => {
    const setting = soundSensor(findLayout('packet12'));
    const sweeps = benchSweeps({ ...setting, world: HALL }, neutral(setting.mount), 10, 1);
    expect(unclear(() => levelOf(sweeps, 0.15, 12, DEFAULT_NOISE))).toContain('has not turned');
  });
});

describe('tape', () => {
  const board = (setting: BenchSetting, range: number, bearing: number, seed: number) => {
    const [c, s] = [Math.cos(bearing), Math.sin(bearing)];
    const at = (along: number): [number, number] => [range * c - along * s, range * s + along * c];
    const world = sceneOf([...box(-4, -4, 4, 4), [...at(-0.3), ...at(0.3)]]);
    return benchSweeps({ ...setting, world }, neutral(setting.mount), 4, seed);
  };

  test.each(['sample5', 'packet12', 'block32'])('%s: offset within 2 mm, scale within 0.2 percent', (name) => {
    const dice = new Random(SEED);
    let worstOffset = 0;
    let worstScale = 0;
    for (let trial = 0; trial < 6; trial++) {
      const range = { offset: 0.06 * dice.uniform() - 0.03, scale: 1 };
      const bearing = (2 * dice.uniform() - 1) * Math.PI;
      const setting = { ...soundSensor(findLayout(name)), range };
      const one = tapeOf([pairOf(1.5, board(setting, 1.5, bearing, trial), bearing)]);
      worstOffset = Math.max(worstOffset, Math.abs(one.offset - range.offset));
      expect(Math.abs(one.offset - range.offset)).toBeLessThan(4 * one.offsetSd);
      const scaled = { ...setting, range: { ...range, scale: 0.97 + 0.06 * dice.uniform() } };
      const two = tapeOf([0.5, 2.5].map((tape) => pairOf(tape, board(scaled, tape, bearing, 50 + trial), bearing)));
      worstScale = Math.max(worstScale, Math.abs(two.scale - scaled.range.scale));
      expect(Math.abs(two.scale - scaled.range.scale)).toBeLessThan(4 * two.scaleSd);
      expect(Math.abs(two.offset - scaled.range.offset)).toBeLessThan(4 * two.offsetSd);
    }
    console.log(
      `tape, ${name}, seed ${SEED}: offset off by ${(1000 * worstOffset).toFixed(2)} mm, scale by ${(100 * worstScale).toFixed(3)} % at most`,
    );
    expect(worstOffset).toBeLessThan(0.002);
    expect(worstScale).toBeLessThan(0.002);
  });

  test('a board elsewhere, distances too near each other', () => {
    const setting = soundSensor(findLayout('packet12'));
    expect(unclear(() => pairOf(3, board(setting, 1.5, 0, 1), 0))).toContain('another thing');
    const pair = { tape: 1, measured: 1, sd: 0.001 };
    expect(unclear(() => tapeOf([pair, { ...pair, tape: 1.2, measured: 1.2 }]))).toContain('tell no scale');
  });
});

describe('mask', () => {
  const masks = (setting: BenchSetting, seed: number) =>
    masksOf(benchSweeps(setting, neutral(setting.mount), 4, seed), OUTLINE, neutral(setting.mount));

  test.each(['sample5', 'packet12', 'index22'])('%s: covers the body within one sample step', (name) => {
    const dice = new Random(SEED);
    const layout = findLayout(name);
    const setting = soundSensor(layout);
    const step = (2 * Math.PI * setting.spin(10)) / layout.samplesPerSecond;
    let least = Infinity;
    let most = -Infinity;
    for (let trial = 0; trial < 8; trial++) {
      const from = (2 * dice.uniform() - 1) * Math.PI;
      const width = (6 + 20 * dice.uniform()) * deg;
      const range = 0.16 + 0.04 * dice.uniform();
      const corners = [from, from + width].flatMap((b) => [range * Math.cos(b), range * Math.sin(b)]);
      const found = masks({ ...setting, body: sceneOf([corners]) }, trial);
      expect(found).toHaveLength(1);
      const before = wrapAngle(from - found[0].from); // > 0: the mask begins before the body
      const behind = wrapAngle(found[0].to - from - width);
      least = Math.min(least, before, behind);
      most = Math.max(most, before, behind);
    }
    console.log(
      `mask, ${name}, seed ${SEED}: edges ${(least / step).toFixed(2)} to ${(most / step).toFixed(2)} steps beyond the body`,
    );
    // index22 tells whole degrees only: its bearings themselves are off by up to half a step
    expect(least).toBeGreaterThan((name === 'index22' ? -0.5 : -0.05) * step);
    expect(most).toBeLessThan(1.05 * step);
  });

  test('nothing seen: no masks; a wall within a metre: not the rover', () => {
    const setting = soundSensor(findLayout('packet12'));
    expect(masks({ ...setting, world: ROOM }, 1)).toEqual([]);
    expect(unclear(() => masks({ ...setting, world: sceneOf(box(-0.8, -1.5, 2, 1.5)) }, 2))).toContain('not the rover');
  });

  test('whether masks cover others, over the end of the circle too', () => {
    const want = { from: 3.1, to: -3.1, upTo: 0.3 };
    expect(isCovered([want], [{ from: 3.0, to: -3.0, upTo: 0.3 }], 0)).toBe(true);
    expect(isCovered([want], [{ from: 3.11, to: -3.0, upTo: 0.3 }], 0)).toBe(false);
    expect(isCovered([want], [{ from: 3.11, to: -3.0, upTo: 0.3 }], 0.02)).toBe(true);
    expect(isCovered([want], [{ from: 3.0, to: -3.0, upTo: 0.2 }], 0)).toBe(false);
    expect(isCovered([], [], 0)).toBe(true);
  });
});
