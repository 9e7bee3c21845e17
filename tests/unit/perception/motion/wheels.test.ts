// True scale and offset are those the readings are made with.
import { describe, expect, test } from 'vitest';
import { MotionEstimator } from '../../../../src/perception/motion/motionEstimator.js';
import { WheelCalibration, type WheelReading } from '../../../../src/perception/motion/wheels.js';
import { castSweeps, ROOM, type Wall } from '../../../support/rooms.js';

const sensor = { x: 0, y: 0, reach: [0.15, 8], noise: { constant: 0.005, growth: 0 } } as const;
/** Speeds that keep changing, so that an offset in time can be seen. */
const way = (t: number): number => 0.4 * t - 0.3 * Math.cos(t) + 0.3;
const still = { noise: 0.005, samples: 360, period: 0.1, seed: 4, far: 8 };

describe('wheels', () => {
  test('scale and time offset are found', () => {
    const wheels = new WheelCalibration();
    let read = 0;
    for (let k = 1; k < 400; k++) {
      const t = k * 0.1;
      for (; read * 0.02 <= t + 0.3; read++) {
        // the wheels' clock is 60 ms behind, their way 4 % short
        const s = read * 0.02;
        wheels.push({ time: s - 0.06, x: way(s) / 1.04, y: 0, heading: 0 });
      }
      wheels.learn(t - 0.1, t, (way(t) - way(t - 0.1)) / 0.1, 0.01, 0, 0.01);
    }
    expect(wheels.wayScale).toBeCloseTo(1.04, 2);
    expect(wheels.offset).toBeGreaterThan(0.045);
    expect(wheels.offset).toBeLessThan(0.075);
  });

  test('in a corridor without features good wheels give the way along it', () => {
    const corridor: Wall[] = [
      [-60, -1, 60, -1],
      [-60, 1, 60, 1],
    ];
    const run = (hasWheels: boolean): number => {
      const motion = new MotionEstimator({ sensor });
      let x = 0;
      let k = 0;
      for (const sweep of castSweeps({ ...still, walls: corridor, pose: (t) => [way(t), 0, 0] }, 80)) {
        const readings: WheelReading[] = [];
        if (hasWheels)
          for (let i = 0; i < 5; i++) {
            const t = (5 * k + i) * 0.02;
            readings.push({ time: t, x: way(t), y: 0, heading: 0 });
          }
        x = motion.update(sweep, readings).pose.x;
        k++;
      }
      return Math.abs(x - (way(7.95) - way(0.05)));
    };
    expect(run(true)).toBeLessThan(0.15);
    expect(run(false)).toBeGreaterThan(0.3);
  });

  test('slipping wheels do not hurt where matching is sure', () => {
    const motion = new MotionEstimator({ sensor });
    let k = 0;
    for (const sweep of castSweeps({ ...still, walls: ROOM, pose: () => [0, 0, 0] }, 60)) {
      const spin = k < 20 ? 0 : 0.5 * (k - 20) * 0.1; // the rover stands, the wheels spin
      const { pose } = motion.update(sweep, [
        { time: sweep.firstTime, x: spin, y: 0, heading: 0 },
        { time: sweep.firstTime + 0.05, x: k < 20 ? 0 : spin + 0.025, y: 0, heading: 0 },
      ]);
      expect(Math.hypot(pose.x, pose.y)).toBeLessThan(0.006);
      k++;
    }
    expect(motion.wheels.tally.slipped).toBeGreaterThan(20);
  });
});
