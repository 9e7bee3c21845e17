// A walker's true place and speed come from the scene itself (tests/support/rooms.ts).
import { describe, expect, test } from 'vitest';
import { MotionEstimator } from '../../../../src/perception/motion/motionEstimator.js';
import { MoverTracker } from '../../../../src/perception/movers/moverTracker.js';
import { castSweeps, ROOM, type Scene } from '../../../support/rooms.js';

const sensor = { x: 0, y: 0, reach: [0.15, 12], noise: { constant: 0.005, growth: 0.0008 } } as const;
const outline = [
  [0.2, 0.16],
  [-0.2, 0.16],
  [-0.2, -0.16],
  [0.2, -0.16],
] as const;
const posts = [
  { x: 1, y: -1, r: 0.03 },
  { x: 1.5, y: -1, r: 0.03 },
  { x: -1.2, y: 1.5, r: 0.15 },
];
const scene: Scene = {
  walls: ROOM,
  pose: (t) => [-1 + 0.3 * t, 0.1 * t, 0.1 * t],
  noise: 0.006,
  samples: 500,
  period: 0.1,
  seed: 21,
};

function follow(scene: Scene, sweeps: number) {
  const motion = new MotionEstimator({ sensor });
  const tracker = new MoverTracker({ sensor, outline });
  return [...castSweeps(scene, sweeps)].map((sweep) => {
    const result = motion.update(sweep);
    return tracker.update(motion, result);
  });
}

describe('MoverTracker', () => {
  test('a walker is told within 0.8 s, keeps its number, and its place and speed are right', () => {
    const walker = (t: number) => ({ x: 2.5 - 0.7 * t, y: -1.3, r: 0.17 });
    const told = follow({ ...scene, discs: (t) => [...posts, walker(t)] }, 50);
    let sum = 0;
    for (let k = 8; k < 50; k++) {
      const t = (k + 0.5) * 0.1;
      const [px, py, ph] = scene.pose(t);
      expect(told[k].length).toBe(1);
      const [mover] = told[k];
      expect(mover.id).toBe(told[8][0].id);
      const w = walker(t);
      const x = Math.cos(ph) * (w.x - px) + Math.sin(ph) * (w.y - py);
      const y = -Math.sin(ph) * (w.x - px) + Math.cos(ph) * (w.y - py);
      const off = Math.hypot(mover.x - x, mover.y - y);
      sum += off;
      expect(off).toBeLessThan(0.2); // the posts hide part of the walker now and then
      if (k < 20) continue;
      expect(Math.hypot(mover.vx - -0.7 * Math.cos(ph), mover.vy - 0.7 * Math.sin(ph))).toBeLessThan(0.35);
      expect(mover.confidence).toBeGreaterThan(0.5);
    }
    expect(sum / 42).toBeLessThan(0.06);
  });

  test('posts and a column that a driving rover passes are no movers', () => {
    const told = follow({ ...scene, discs: () => posts }, 60);
    expect(told.reduce((sum, movers) => sum + movers.length, 0)).toBe(0);
  });

  test('a walker behind a column for half a second keeps its number', () => {
    const column = { x: 0, y: -1, r: 0.22 };
    const walker = (t: number) => ({ x: -2 + 0.9 * t, y: -1.6, r: 0.17 });
    const told = follow({ ...scene, pose: () => [0, 0, 0], discs: (t) => [column, walker(t)] }, 45);
    const ids = new Set(told.flat().map(({ id }) => id));
    expect(ids.size).toBe(1);
    expect(told[44].length).toBe(1);
  });

  test('one who comes straight at the rover is told to reach it', () => {
    const told = follow({ ...scene, pose: () => [-2, 0, 0], discs: (t) => [{ x: 3 - 0.8 * t, y: 0, r: 0.17 }] }, 25);
    const [mover] = told[24];
    expect(mover.closest).toBeLessThan(0.1);
    expect(mover.closestIn).toBeGreaterThan((5 - 2 - 0.2 - 0.2) / 0.8 - 0.8);
    expect(mover.closestIn).toBeLessThan((5 - 2 - 0.2) / 0.8 + 0.8);
  });
});
