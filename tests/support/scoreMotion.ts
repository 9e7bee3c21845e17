/**
 * Reads NDJSON sweeps on standard input and writes motion, movers and sectors in the neutral form of the scorers on standard output:
 * one sweep at a time, in order, without looking ahead. `ref` is the sweep's middle. With the environment's DEBUG, tallies too.
 */
import { createInterface } from 'node:readline';
import { MotionEstimator } from '../../src/perception/motion/motionEstimator.js';
import { rehearsalSweeps } from '../../src/perception/motion/rehearsal.js';
import { SectorNearest } from '../../src/perception/motion/sectors.js';
import { MoverTracker } from '../../src/perception/movers/moverTracker.js';
import type { Sweep } from '../../src/sweep/sweep.js';
import { toSweep } from './sweeps.js';

const sensor = { x: 0, y: 0, reach: [0.15, 12], noise: { constant: 0.005, growth: 0.005 / 6 } } as const;
/** m, the configuration's default outline. */
const outline = [
  [0.2, 0.16],
  [-0.2, 0.16],
  [-0.2, -0.16],
  [0.2, -0.16],
] as const;

/** @returns a function that takes a sweep through all steps; the times are ms. */
function makePerception() {
  const motion = new MotionEstimator({ sensor });
  const tracker = new MoverTracker({ sensor, outline });
  const sectors = new SectorNearest();
  return (sweep: Sweep) => {
    const t0 = performance.now();
    const result = motion.update(sweep);
    const t1 = performance.now();
    const movers = tracker.update(motion, result);
    const t2 = performance.now();
    const nearest = sectors.update(motion.points, result.twist.turn);
    const t3 = performance.now();
    return { result, movers, nearest, ego: t1 - t0, move: t2 - t1, sectors: t3 - t2, tally: motion.tally };
  };
}

const rehearse = makePerception();
for (const sweep of rehearsalSweeps(200, 400)) rehearse(sweep);

const perceive = makePerception();
let number = 0;
for await (const text of createInterface({ input: process.stdin })) {
  if (text.trim() === '') continue;
  const line = JSON.parse(text);
  const { result, movers, nearest, ego, move, sectors, tally } = perceive(toSweep(line, ++number));
  const out = {
    t: line.t,
    us: (ego + move + sectors) * 1000,
    stages: { ego: ego * 1000, move: move * 1000, sectors: sectors * 1000 },
    ref: 0.5,
    pose: [result.pose.x, result.pose.y, result.pose.heading],
    movers: movers.map(({ id, x, y, vx, vy }) => ({ id, x, y, vx, vy })),
    sectors: Array.from(nearest, (d) => (d === Infinity ? 0 : d)),
    ...(process.env.DEBUG === undefined ? {} : { tally, quality: result.quality, covariance: result.covariance }),
  };
  process.stdout.write(`${JSON.stringify(out)}\n`);
}
