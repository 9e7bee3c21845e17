import { createInterface } from 'node:readline';
import { loadConfig } from '../config/load.js';
import { rehearsalSweeps } from '../perception/motion/rehearsal.js';
import { SectorNearest } from '../perception/motion/sectors.js';
import { Perception } from '../perception/perceive.js';
import { wholeSweep } from '../sweep/wholeSweep.js';
import { perceptionSetting } from './compose.js';
import { LineBatches } from './lineBatches.js';
import { readSweepLine } from './sweepLines.js';

/**
 * `npm run --silent score-feed`: NDJSON sweeps on standard input, one line of measured figures a sweep on standard output: what the
 * daemon's own perception makes of it with the configuration's defaults, and how long each part took (us: microseconds from the
 * sweep in memory to its results). Places are told for the sweep's middle (`ref` 0.5), one sweep at a time, without looking ahead.
 */
const config = loadConfig(undefined, []);
const setting = perceptionSetting(config);
const batches = new LineBatches(config);
const rehearsed = new Perception(setting); // so that the first sweeps are not timed while the code is still being compiled
for (const sweep of rehearsalSweeps(200, 400)) rehearsed.perceive(sweep);
const perception = new Perception(setting);
const nearest = new SectorNearest(config.clearance.sectors);
let number = 0;

for await (const text of createInterface({ input: process.stdin })) {
  if (text.trim() === '') continue;
  const line = readSweepLine(text, ++number);
  const batch = batches.batch(line);
  const { sweep, from } = wholeSweep(batch, number, Number.isNaN(line.dt) ? 0 : line.dt * batch.count);
  const begun = performance.now();
  const motion = perception.move(sweep);
  const moved = performance.now();
  const movers = perception.track(motion, motion.time);
  const tracked = performance.now();
  const sectors = nearest.update(perception.motion.points, motion.twist.turn);
  const sectored = performance.now();
  perception.segment(sweep, motion, motion.time);
  const segmented = performance.now();
  perception.shapes.straighten();
  const straightened = performance.now();
  const shapes = perception.describe(sweep, motion, motion.time);
  const ended = performance.now();
  const labels = new Int32Array(batch.count).fill(-1);
  for (let i = 0; i < sweep.count; i++) labels[from[i]] = shapes.segmentOf[i];
  const us = (first: number, last: number): number => (last - first) * 1000;
  const out = {
    t: line.t,
    us: us(begun, ended),
    stages: {
      ego: us(begun, moved),
      move: us(moved, tracked),
      sectors: us(tracked, sectored),
      seg: us(sectored, segmented),
      lines: us(segmented, straightened),
    },
    ref: 0.5,
    labels: [...labels],
    lines: shapes.walls.map((wall) => ({
      ...{ a: wall.normal, r: wall.distance, x1: wall.x1, y1: wall.y1, x2: wall.x2, y2: wall.y2 },
      cov: [wall.distanceVar, wall.crossCov, wall.normalVar],
    })),
    corners: shapes.corners.map(({ x, y }) => [x, y]),
    sectors: Array.from(sectors, (range) => (range === Infinity ? 0 : range)),
    movers: movers.map(({ id, x, y, vx, vy }) => ({ id, x, y, vx, vy })),
    pose: [motion.pose.x, motion.pose.y, motion.pose.heading],
  };
  process.stdout.write(`${JSON.stringify(out)}\n`);
}
