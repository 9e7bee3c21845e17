// Scores the shapes of the built program (npm run build) against simulated drives, with the truth's own motion in place of
// the program's: it is read for the deskew and for nothing else.
//   node tests/support/scoreShapes.mjs [WORLD,WORLD...]      writes a line a world and the pooled one
import { existsSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { FrameMaker } from '../../dist/perception/shapes/frameMaker.js';
import { ShapeFinder } from '../../dist/perception/shapes/shapes.js';

const shared = fileURLToPath(new URL('../../../shared/', import.meta.url));
const ALL = [
  'room400',
  'lcorr400',
  'workshop800',
  'workshop1600',
  'doors400',
  'glass800',
  'curve400',
  'aisle1600',
  'hall800',
];

/** A sweep of a world as the frame maker's source, and the truth's poses about its middle. */
export function sourceOf(sweep) {
  const count = sweep.ranges.length;
  const bearing = Float32Array.from(sweep.bearings, (b) => Math.atan2(Math.sin(b), Math.cos(b)));
  const range = Float32Array.from(sweep.ranges, (r) => (r > 0 ? r : Infinity));
  const kind = Uint8Array.from(sweep.ranges, (r) => (r > 0 ? 0 : 1));
  const [mx, my, heading] = sweep.truth.pose[4];
  const c = Math.cos(heading);
  const s = Math.sin(heading);
  const motion = Float64Array.from(
    sweep.truth.pose.flatMap(([x, y, a]) => [c * (x - mx) + s * (y - my), c * (y - my) - s * (x - mx), a - heading]),
  );
  const sense =
    (sweep.bearings[2] - sweep.bearings[1]) * (sweep.bearings[3] - sweep.bearings[2]) > 0
      ? Math.sign(sweep.bearings[2] - sweep.bearings[1])
      : Math.sign(sweep.bearings[6] - sweep.bearings[5]);
  return { sweep: { count, bearing, range, kind, sense }, motion };
}

/** The neutral form of one sweep. */
export function neutral(t, shapes, stages) {
  return {
    t,
    us: stages.seg + stages.lines + stages.describe,
    stages,
    labels: [...shapes.segmentOf],
    lines: shapes.walls.map((w) => ({
      a: w.normal,
      r: w.distance,
      x1: w.x1,
      y1: w.y1,
      x2: w.x2,
      y2: w.y2,
      cov: [w.distanceVar, w.crossCov, w.normalVar],
    })),
    corners: shapes.corners.map((c) => [c.x, c.y]),
  };
}

async function main() {
  if (!existsSync(shared)) return console.log(`SKIPPED: ${shared} is absent`);
  const { readLines, scoreFile, fresh, merge, summarise } = await import(`${shared}scorers/score.mjs`);
  const worlds = process.argv[2]?.split(',') ?? ALL;
  const folder = mkdtempSync(join(tmpdir(), 'shapes-'));
  const all = fresh();
  const tell = (name, { seg: g, lines: l, corners: c, speed }) =>
    console.log(
      `${name.padEnd(13)} seg ${g.pair_f1}/${g.ari} small ${g.small_object_recall} tiny ${g.tiny_object_recall}` +
        ` | lines ${l.tp_rate}/${l.fp_rate} frag ${l.fragments_per_match} robust ${l.robust_r_mm} ${l.robust_a_deg}` +
        ` rms ${l.sigma_r_mm} ${l.sigma_a_deg} mid ${l.sigma_mid_mm} in95 ${l.cov_in_95}` +
        ` | corners ${c.recall}/${c.precision} | us ${JSON.stringify(speed.stages_median_us)}`,
    );
  for (const world of worlds) {
    const file = `${shared}worlds/${world}.ndjson.gz`;
    const finder = new ShapeFinder();
    const maker = new FrameMaker();
    const out = readLines(file).map((row) => {
      const { sweep, motion } = sourceOf(row);
      const t0 = performance.now();
      const frame = maker.make(sweep, motion);
      finder.segment(frame);
      const t1 = performance.now();
      finder.straighten();
      const t2 = performance.now();
      const shapes = finder.describe();
      const t3 = performance.now();
      return JSON.stringify(
        neutral(row.t, shapes, { seg: (t1 - t0) * 1e3, lines: (t2 - t1) * 1e3, describe: (t3 - t2) * 1e3 }),
      );
    });
    writeFileSync(join(folder, 'out.ndjson'), `${out.join('\n')}\n`);
    const one = scoreFile(file, join(folder, 'out.ndjson'), fresh());
    tell(world, summarise(one));
    merge(all, one);
  }
  if (worlds.length > 1) tell('ALL', summarise(all));
  rmSync(folder, { recursive: true });
}

if (process.argv[1] === fileURLToPath(import.meta.url)) await main();
