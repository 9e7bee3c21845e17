import { createInterface } from 'node:readline';
import { wrapAngle } from '../../src/core/angles.js';
import { MotionEstimator } from '../../src/perception/motion/motionEstimator.js';
import { rehearsalSweeps } from '../../src/perception/motion/rehearsal.js';
import { SectorNearest } from '../../src/perception/motion/sectors.js';
import type { SensorModel } from '../../src/perception/motion/sweepPoints.js';
import { MoverTracker } from '../../src/perception/movers/moverTracker.js';
import { SAMPLE_KIND } from '../../src/sweep/echoBatch.js';
import type { Sweep } from '../../src/sweep/sweep.js';

/** A line of NDJSON as a sweep; the configuration's defaults (reach 0.15 to 12 m, sensor at the origin). */
export function toSweep(line: { t: number; dt?: number; bearings?: number[]; angle0?: number; step?: number; ranges: number[] }, number: number): Sweep {
  const n = line.ranges.length;
  const bearings = line.bearings ?? line.ranges.map((_, i) => (line.angle0 ?? 0) + i * (line.step ?? 0));
  const dt = line.dt ?? 0;
  const range = new Float32Array(n);
  const kind = new Uint8Array(n);
  for (let i = 0; i < n; i++) {
    const r = line.ranges[i] as number;
    range[i] = r > 0 ? r : Infinity;
    kind[i] = r > 0 ? (r < 0.15 ? SAMPLE_KIND.tooNear : SAMPLE_KIND.echo) : SAMPLE_KIND.empty;
  }
  const middle = n >> 1;
  const sense = wrapAngle((bearings[middle + 1] as number) - (bearings[middle] as number)) < 0 ? -1 : 1;
  return {
    number,
    count: n,
    firstTime: line.t,
    period: dt * n,
    time: Float64Array.from({ length: n }, (_, i) => line.t + i * dt),
    bearing: Float32Array.from(bearings, wrapAngle),
    range,
    strength: new Uint16Array(n),
    kind,
    sense,
  };
}

function rehearse(sensor: SensorModel): void {
  const motion = new MotionEstimator({ sensor });
  const tracker = new MoverTracker(sensor);
  const sectors = new SectorNearest();
  for (const sweep of rehearsalSweeps(200, 400)) {
    const { pose, twist } = motion.update(sweep);
    tracker.update(motion.points, motion.standing, pose, motion.free);
    sectors.update(motion.points, twist.turn);
  }
}

async function main(): Promise<void> {
  const sensor = { x: 0, y: 0, reach: [0.15, 12], noise: { constant: 0.005, growth: 0.005 / 6 } } as const;
  const motion = new MotionEstimator({ sensor });
  const tracker = new MoverTracker(sensor);
  const sectors = new SectorNearest();
  rehearse(sensor);
  let number = 0;
  for await (const line of createInterface({ input: process.stdin })) {
    if (line.trim() === '') continue;
    const raw = JSON.parse(line);
    const sweep = toSweep(raw, ++number);
    const t0 = performance.now();
    const { pose, twist, covariance, quality } = motion.update(sweep);
    const t1 = performance.now();
    const movers = tracker.update(motion.points, motion.standing, pose, motion.free);
    const t2 = performance.now();
    const nearest = sectors.update(motion.points, twist.turn);
    const t3 = performance.now();
    const us = (t3 - t0) * 1000;
    process.stdout.write(`${JSON.stringify({ t: raw.t, us, stages: { ego: (t1 - t0) * 1000, move: (t2 - t1) * 1000, sectors: (t3 - t2) * 1000 }, ref: 0.5, pose: [pose.x, pose.y, pose.heading], movers, sectors: Array.from(nearest, (d) => (d === Infinity ? 0 : d)), tdbg: process.env.DEBUG ? tracker.debug(pose) : undefined, dbg: process.env.DEBUG ? { nl: motion.reference.count, quality, sd: [covariance[0], covariance[3], covariance[5]].map((v) => +(1e3 * Math.sqrt(v as number)).toFixed(2)), ...motion.tally, lines: motion.dbg() } : undefined })}\n`);
  }
}
if (process.argv[1]?.includes('scoreMotion')) await main();
