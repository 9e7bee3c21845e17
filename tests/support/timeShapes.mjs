// Times the shapes of the built program on simulated drives; prints one JSON line. The test runner's way of loading modules
// would be timed with them, so tests/bench/shapes.test.ts starts this as a program of its own.
//   node tests/support/timeShapes.mjs WARM FOLDER WORLD...
import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';
import { FrameMaker } from '../../dist/perception/shapes/frameMaker.js';
import { ShapeFinder } from '../../dist/perception/shapes/shapes.js';
import { sourceOf } from './scoreShapes.mjs';

setFlagsFromString('--expose-gc');
const collect = runInNewContext('gc');
const [warm, folder, ...names] = process.argv.slice(2);
const { readLines } = await import(`${folder}/../scorers/score.mjs`);
const drives = names.map((name) => readLines(`${folder}/${name}.ndjson.gz`).map(sourceOf));
const finder = new ShapeFinder();
const maker = new FrameMaker();

/** Microseconds of one sweep: frame and segments, walls and corners, posts with openings and values. */
function run({ sweep, motion }) {
  const t0 = performance.now();
  finder.segment(maker.make(sweep, motion));
  const t1 = performance.now();
  finder.straighten();
  const t2 = performance.now();
  finder.describe();
  const t3 = performance.now();
  return [1e3 * (t1 - t0), 1e3 * (t2 - t1), 1e3 * (t3 - t2)];
}

for (let i = 0; i < Number(warm); i++) for (const drive of drives) run(drive[i % drive.length]);
const stages = drives.flatMap((drive) => drive.slice(20).map(run));
let bytes = 0;
let counted = 0;
collect();
for (const sweep of drives[0]) {
  const before = process.memoryUsage().heapUsed;
  run(sweep);
  const grown = process.memoryUsage().heapUsed - before;
  if (grown < 0) continue; // the collector ran
  bytes += grown;
  counted++;
}
console.log(JSON.stringify({ stages, bytes: bytes / counted }));
