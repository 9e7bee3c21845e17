// Shapes of real recordings (see the folder's README for who recorded them). Truth there is none but agreement: a wall of one
// sweep, placed by the reference pose, must lie on a wall of the next. The poses themselves jitter by 1.5 cm and 0.4 degrees.
import { describe, expect, test } from 'vitest';
import { NoiseLearner } from '../../src/estimate/noiseLearner.js';
import { FrameMaker, type FrameSource } from '../../src/perception/shapes/frameMaker.js';
import { DEFAULT_SHAPE_SETTING, ShapeFinder } from '../../src/perception/shapes/shapes.js';
import { readRows, sharedPath } from '../support/sharedData.js';

interface Recorded {
  readonly angle0: number;
  readonly step: number;
  readonly ranges: readonly number[];
  readonly pose: readonly [number, number, number] | null;
}

const folder = sharedPath('data');
const wrap = (a: number): number => Math.atan2(Math.sin(a), Math.cos(a));

function source(row: Recorded, count = row.ranges.length): FrameSource {
  return {
    count,
    bearing: Float32Array.from({ length: count }, (_, i) => wrap(row.angle0 + i * row.step)),
    range: Float32Array.from({ length: count }, (_, i) => (row.ranges[i] > 0 ? row.ranges[i] : Infinity)),
    kind: Uint8Array.from({ length: count }, (_, i) => (row.ranges[i] > 0 ? 0 : 1)),
    sense: row.step > 0 ? 1 : -1,
  };
}

interface Placed {
  /** Normal and distance in the fixed frame, and the ends. */
  readonly normal: number;
  readonly distance: number;
  /** Whether its direction is known to half a degree: the test's 1.5 is then 3 standard deviations of noise alone. */
  readonly isSure: boolean;
  readonly x: readonly [number, number];
  readonly y: readonly [number, number];
}

describe.skipIf(folder === undefined)('recordings', () => {
  test.each([
    { name: 'fr079-part1', all: 0.7, sure: 0.85 },
    { name: 'intel', all: 0.7, sure: 0.8 },
  ])('$name: walls lie on walls of the neighbouring sweep', { timeout: 60_000 }, ({ name, all, sure }) => {
    const rows = readRows<Recorded>(`${folder}/${name}.ndjson.gz`);
    const maker = new FrameMaker();
    const learner = new NoiseLearner();
    for (const row of rows) {
      const frame = maker.make(source(row));
      const kept = [...frame.kind.keys()].filter((i) => frame.kind[i] === 0);
      learner.add(
        Float64Array.from(kept, (i) => frame.x[i]),
        Float64Array.from(kept, (i) => frame.y[i]),
        kept.length,
      );
    }
    const noise = learner.model();
    expect(noise).toBeDefined();
    const finder = new ShapeFinder({ ...DEFAULT_SHAPE_SETTING, noise: noise ?? DEFAULT_SHAPE_SETTING.noise });
    const placed = rows.map((row): Placed[] => {
      const [px, py, heading] = row.pose ?? [NaN, NaN, NaN];
      const c = Math.cos(heading);
      const s = Math.sin(heading);
      return finder.find(maker.make(source(row))).walls.map((w) => {
        const normal = wrap(w.normal + heading);
        return {
          normal,
          distance: w.distance + px * Math.cos(normal) + py * Math.sin(normal),
          isSure: Math.sqrt(w.normalVar) < (0.5 * Math.PI) / 180,
          x: [px + c * w.x1 - s * w.y1, px + c * w.x2 - s * w.y2],
          y: [py + s * w.x1 + c * w.y1, py + s * w.x2 + c * w.y2],
        };
      });
    });
    const pairs = [0, 0];
    const agree = [0, 0];
    let walls = 0;
    placed.forEach((here, i) => {
      walls += here.length;
      for (const wall of here) {
        const next = placed[i + 1] ?? [];
        const mates = next.filter((other) => overlaps(wall, other));
        if (mates.length === 0) continue;
        const lies = mates.some((other) => isOn(wall, other, 0.05, (1.5 * Math.PI) / 180));
        for (const k of wall.isSure && mates.some((other) => other.isSure) ? [0, 1] : [0]) {
          pairs[k]++;
          if (lies) agree[k]++;
        }
      }
    });
    const shares = agree.map((n, k) => n / pairs[k]);
    console.log(
      `${name}: noise learned ${JSON.stringify(noise)}, ${(walls / rows.length).toFixed(1)} walls a sweep; on a neighbour's wall ` +
        `within 5 cm and 1.5 degrees: ${agree[0]} of ${pairs[0]} (${shares[0].toFixed(3)}), of those known to half a degree ` +
        `${agree[1]} of ${pairs[1]} (${shares[1].toFixed(3)})`,
    );
    expect(shares[0]).toBeGreaterThanOrEqual(all);
    expect(shares[1]).toBeGreaterThanOrEqual(sure);
  });

  test('lowcost360-a: a wall in four of five sweeps that hold 20 echoes in a row', () => {
    const rows = readRows<Recorded>(`${folder}/lowcost360-a.ndjson.gz`);
    const finder = new ShapeFinder();
    const maker = new FrameMaker();
    let held = 0;
    let seen = 0;
    for (const row of rows) {
      let run = 0;
      let longest = 0;
      for (const r of row.ranges) {
        run = r > 0 ? run + 1 : 0;
        longest = Math.max(longest, run);
      }
      if (longest < 20) continue;
      held++;
      if (finder.find(maker.make(source(row))).walls.length > 0) seen++;
    }
    console.log(`lowcost360-a: a wall in ${seen} of ${held} sweeps that hold 20 echoes in a row, of ${rows.length}`);
    expect(held).toBeGreaterThan(10);
    expect(seen / held).toBeGreaterThanOrEqual(0.8);
  });
});

/** Whether both were seen on a common stretch, and may be meant for one wall: 20 degrees and 30 cm. */
function overlaps(a: Placed, b: Placed): boolean {
  if (!isOn(a, b, 0.3, (20 * Math.PI) / 180)) return false;
  const ux = -Math.sin(a.normal);
  const uy = Math.cos(a.normal);
  const [a1, a2, b1, b2] = [a, b].flatMap(({ x, y }) => [ux * x[0] + uy * y[0], ux * x[1] + uy * y[1]]);
  return Math.min(Math.max(a1, a2), Math.max(b1, b2)) - Math.max(Math.min(a1, a2), Math.min(b1, b2)) > 0.1;
}

/** Whether the middle of a lies on b's line, and both have one direction. */
function isOn(a: Placed, b: Placed, far: number, turn: number): boolean {
  const x = (a.x[0] + a.x[1]) / 2;
  const y = (a.y[0] + a.y[1]) / 2;
  const off = Math.abs(x * Math.cos(b.normal) + y * Math.sin(b.normal) - b.distance);
  return off <= far && Math.abs(Math.sin(a.normal - b.normal)) <= Math.sin(turn);
}
