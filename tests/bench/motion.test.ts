// Time of motion, movers and sectors on scenes cast by tests/support/rooms.ts (seed below). Prints machine and version; fails on a budget.
import { cpus } from 'node:os';
import { beforeAll, expect, test } from 'vitest';
import { MotionEstimator } from '../../src/perception/motion/motionEstimator.js';
import { rehearsalSweeps } from '../../src/perception/motion/rehearsal.js';
import { SectorNearest } from '../../src/perception/motion/sectors.js';
import { MoverTracker } from '../../src/perception/movers/moverTracker.js';
import { castSweeps, ROOM } from '../support/rooms.js';

const SEED = 31;
/** ns an echo, generous: four times what a 2-core x64 machine of 2026 takes. */
const BUDGET = 800;
const sensor = { x: 0, y: 0, reach: [0.15, 12], noise: { constant: 0.005, growth: 0.0008 } } as const;
const outline = [
  [0.2, 0.16],
  [-0.2, 0.16],
  [-0.2, -0.16],
  [0.2, -0.16],
] as const;

/** Runs the code hot, as at the daemon's start. */
function rehearse(): void {
  const motion = new MotionEstimator({ sensor });
  const tracker = new MoverTracker({ sensor, outline });
  const sectors = new SectorNearest();
  for (const sweep of rehearsalSweeps(300, 400)) {
    const result = motion.update(sweep);
    tracker.update(motion, result);
    sectors.update(motion.points, result.twist.turn);
  }
}

beforeAll(rehearse);

test.each([400, 800, 1600])('%i samples a sweep', (samples) => {
  const sweeps = [
    ...castSweeps(
      {
        walls: ROOM,
        pose: (t) => [0.8 * Math.sin(0.4 * t), 0.5 * Math.cos(0.4 * t), 0.3 * t],
        discs: (t) => [{ x: 2 - 0.5 * t, y: -1, r: 0.17 }],
        noise: 0.006,
        samples,
        period: 0.1,
        seed: SEED,
      },
      120,
    ),
  ];
  const motion = new MotionEstimator({ sensor });
  const tracker = new MoverTracker({ sensor, outline });
  const sectors = new SectorNearest();
  const times: number[] = [];
  const heapBefore = process.memoryUsage().heapUsed;
  for (const sweep of sweeps) {
    const start = performance.now();
    const result = motion.update(sweep);
    tracker.update(motion, result);
    sectors.update(motion.points, result.twist.turn);
    times.push(performance.now() - start);
  }
  const grown = process.memoryUsage().heapUsed - heapBefore;
  const median = times.slice(20).sort((a, b) => a - b)[50];
  console.log(
    `${cpus()[0].model}, Node ${process.version}, seed ${SEED}: ${samples} samples, median ${(median * 1000).toFixed(0)} us a sweep, ${((median * 1e6) / samples).toFixed(0)} ns an echo, heap ${grown > 0 ? `+${(grown / 120 / 1024).toFixed(1)} kB a sweep` : 'collected meanwhile'}`,
  );
  expect((median * 1e6) / samples).toBeLessThan(BUDGET);
});
