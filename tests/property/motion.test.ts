// Properties of the rover's motion in scenes cast exactly (tests/support/rooms.ts): nothing here is compared with the code under test.
import { describe, expect, test } from 'vitest';
import { MotionEstimator } from '../../src/perception/motion/motionEstimator.js';
import { MoverTracker } from '../../src/perception/movers/moverTracker.js';
import { castSweeps, ROOM, type Scene, type Wall } from '../support/rooms.js';

const sensor = { x: 0, y: 0, reach: [0.15, 12], noise: { constant: 0.005, growth: 0 } } as const;
const outline = [
  [0.2, 0.16],
  [-0.2, 0.16],
  [-0.2, -0.16],
  [0.2, -0.16],
] as const;
const still: Scene = { walls: ROOM, pose: () => [0, 0, 0], noise: 0.005, samples: 360, period: 0.1, seed: 11 };
/** Starts from rest and drives a circle, so that speeds have to be found. */
const circle = (t: number): readonly [number, number, number] => {
  const a = 0.6 * (t < 1 ? (t * t) / 2 : t - 0.5);
  return [0.8 * Math.sin(a), 0.8 * (1 - Math.cos(a)), a];
};

function drive(scene: Scene, sweeps: number) {
  const motion = new MotionEstimator({ sensor });
  const results = [];
  for (const sweep of castSweeps(scene, sweeps)) results.push(motion.update(sweep));
  return results;
}

describe('the rover’s own motion', () => {
  test('a standing rover in an unchanging room stays within 2 mm and 0.05 degrees over 10 minutes and sees no mover', () => {
    const motion = new MotionEstimator({ sensor });
    const tracker = new MoverTracker({ sensor, outline });
    let shift = 0;
    let turn = 0;
    let movers = 0;
    for (const sweep of castSweeps({ ...still, samples: 800 }, 6000)) {
      const result = motion.update(sweep);
      shift = Math.max(shift, Math.hypot(result.pose.x, result.pose.y));
      turn = Math.max(turn, Math.abs(result.pose.heading));
      movers += tracker.update(motion, result).length;
    }
    expect(shift).toBeLessThan(0.002);
    expect((turn * 180) / Math.PI).toBeLessThan(0.05);
    expect(movers).toBe(0);
  }, 60_000);

  test('a full turn ends where it began, and the way between is right', () => {
    const sweeps = 115; // 0.6 rad/s: a little more than one turn
    const results = drive({ ...still, pose: circle, seed: 5 }, sweeps);
    for (const k of [30, 60, 90, sweeps - 1]) {
      const t = (k + 0.5) * 0.1;
      const [x, y, heading] = circle(t);
      const [x0, y0, h0] = circle(0.05);
      const { pose } = results[k];
      expect(Math.hypot(pose.x - (x - x0), pose.y - (y - y0))).toBeLessThan(0.006);
      expect(Math.abs(pose.heading - (heading - h0))).toBeLessThan(0.003);
    }
  });

  test('mirror worlds give mirrored motion', () => {
    const mirrored: Wall[] = ROOM.map(([a, b, c, d]) => [a, -b, c, -d]);
    const one = drive({ ...still, pose: circle, seed: 3 }, 80);
    const other = drive(
      {
        ...still,
        walls: mirrored,
        sense: -1,
        seed: 3,
        pose: (t) => {
          const [x, y, h] = circle(t);
          return [x, -y, -h];
        },
      },
      80,
    );
    for (let k = 0; k < 80; k++) {
      expect(other[k].pose.x).toBeCloseTo(one[k].pose.x, 3);
      expect(other[k].pose.y).toBeCloseTo(-one[k].pose.y, 3);
      expect(other[k].pose.heading).toBeCloseTo(-one[k].pose.heading, 3);
    }
  });

  test('a corridor without features gives large covariance along it and small across', () => {
    const corridor: Wall[] = [
      [-60, -1, 60, -1],
      [-60, 1, 60, 1],
    ];
    const results = drive({ ...still, walls: corridor, pose: (t) => [0.4 * t, 0, 0], far: 8 }, 60);
    const { covariance, pose } = results[59];
    expect(covariance[0]).toBeGreaterThan(100 * covariance[3]);
    expect(Math.sqrt(covariance[0])).toBeGreaterThan(0.1);
    expect(Math.abs(pose.y)).toBeLessThan(0.01);
  });

  test('missing sweeps and a stretch without echoes cost no jump', () => {
    const motion = new MotionEstimator({ sensor });
    let k = -1;
    let last = motion.update([...castSweeps(still, 1)][0]);
    for (const sweep of castSweeps({ ...still, pose: circle, seed: 9 }, 90)) {
      k++;
      if (k >= 30 && k < 35) continue; // half a second lost
      const blind = k >= 60 && k < 63;
      const result = motion.update(
        blind ? { ...sweep, range: sweep.range.map(() => Infinity), kind: sweep.kind.map(() => 1) } : sweep,
      );
      if (blind) {
        expect(result.quality).toBe(0);
        expect(result.covariance[0]).toBeGreaterThan(last.covariance[0]);
      }
      const [x, y, h] = circle((k + 0.5) * 0.1);
      const [x0, y0, h0] = circle(0.05);
      const off = Math.hypot(result.pose.x - (x - x0), result.pose.y - (y - y0));
      expect(off).toBeLessThan(blind ? 0.08 : 0.02);
      expect(Math.abs(result.pose.heading - (h - h0))).toBeLessThan(blind ? 0.08 : 0.01);
      last = result;
    }
  });
});
