// What stays true of shapes for every scene and sweep.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { ShapeFrame } from '../../src/perception/shapes/frame.js';
import { ShapeFinder, type Shapes } from '../../src/perception/shapes/shapes.js';
import { seededRandom } from '../support/random.js';
import { box, mirrored, type Scene, scan, turned } from '../support/roomScan.js';

const SAMPLES = 360;
const STEP = (2 * Math.PI) / SAMPLES;
/** Beams off the round bearings on which a scene's edges may lie: whether such a beam meets the edge is rounding's choice. */
const OFF = 0.37 * STEP;

/** Rooms with a box and a post, and a seed for the noise. */
const scenes = fc
  .record({
    left: fc.double({ min: 1.2, max: 3, noNaN: true }),
    right: fc.double({ min: 1.2, max: 3, noNaN: true }),
    ahead: fc.double({ min: 1.5, max: 4, noNaN: true }),
    post: fc.double({ min: 0.05, max: 0.12, noNaN: true }),
    seed: fc.integer({ min: 1, max: 1e6 }),
  })
  .map(({ left, right, ahead, post, seed }) => ({
    scene: {
      walls: [...box(-1.7, -right, ahead, left), ...box(0.6, -0.9, 1, -0.6)],
      discs: [[-0.8, 0.7, post]],
    } satisfies Scene,
    seed,
  }));

/** The noise of the sample at each place counter-clockwise from the scene's own x axis. */
function noiseOf(seed: number): number[] {
  const random = seededRandom(seed);
  return Array.from({ length: SAMPLES }, () => 0.005 * (random() + random() + random() - 1.5) * 2);
}

const find = (frame: ShapeFrame): Shapes => new ShapeFinder().find(frame);
const summary = (shapes: Shapes, turn: number, mirror: 1 | -1) => ({
  segments: shapes.segments.length,
  walls: shapes.walls
    .map((w) => {
      const angle = mirror * (w.normal - turn);
      return [Math.cos(angle) * w.distance, Math.sin(angle) * w.distance, w.echoes, w.distanceVar * 1e6] as const;
    })
    .sort((a, b) => a[0] - b[0] || a[1] - b[1]),
  corners: shapes.corners.map((c) => c.kind).sort(),
  posts: shapes.posts.map((p) => [Math.hypot(p.x, p.y), p.radius, p.echoes] as const).sort((a, b) => a[0] - b[0]),
  openings: shapes.openings.map((o) => o.width).sort(),
});

function expectSame(a: ReturnType<typeof summary>, b: ReturnType<typeof summary>): void {
  const round = (value: unknown): unknown =>
    typeof value === 'number' ? expect.closeTo(value, 3) : Array.isArray(value) ? value.map(round) : value;
  expect(a).toEqual(Object.fromEntries(Object.entries(b).map(([key, value]) => [key, round(value)])));
}

describe('shapes follow the scene', () => {
  test('turned by whole steps', () => {
    fc.assert(
      fc.property(scenes, fc.integer({ min: 0, max: SAMPLES - 1 }), ({ scene, seed }, steps) => {
        const noise = noiseOf(seed);
        const plain = scan(scene, { samples: SAMPLES, start: OFF, noise: (_, k) => noise[k] });
        const turn = scan(turned(scene, steps * STEP), {
          samples: SAMPLES,
          start: OFF,
          noise: (_, k) => noise[(k - steps + SAMPLES) % SAMPLES],
        });
        expectSame(summary(find(turn), steps * STEP, 1), summary(find(plain), 0, 1));
      }),
      { numRuns: 60 },
    );
  });

  test('mirrored, seen by a sensor that turns the other way', () => {
    // the order of the steps is not the mirrored one, so that a decision by a hair may fall the other way: in 1 of 20 at most
    let differ = 0;
    const drawn = fc.sample(scenes, { numRuns: 200, seed: 7 });
    for (const { scene, seed } of drawn) {
      const noise = noiseOf(seed);
      const plain = scan(scene, { samples: SAMPLES, start: OFF, noise: (_, k) => noise[k] });
      const mirror = scan(mirrored(scene), {
        samples: SAMPLES,
        start: -OFF,
        sense: -1,
        noise: (_, k) => noise[(SAMPLES - k) % SAMPLES],
      });
      const [a, b] = [summary(find(mirror), 0, -1), summary(find(plain), 0, 1)];
      const isSame =
        a.walls.length === b.walls.length &&
        a.walls.every((wall, i) => Math.hypot(wall[0] - b.walls[i][0], wall[1] - b.walls[i][1]) < 0.01) &&
        a.corners.join() === b.corners.join() &&
        a.posts.length === b.posts.length;
      if (!isSame) differ++;
    }
    console.log(`mirrored: ${differ} of ${drawn.length} scenes differ, seed 7`);
    expect(differ / drawn.length).toBeLessThanOrEqual(0.05);
  });

  test('order of measuring and first bearing do not matter', () => {
    fc.assert(
      fc.property(
        scenes,
        fc.integer({ min: 0, max: SAMPLES - 1 }),
        fc.constantFrom(1 as const, -1 as const),
        ({ scene, seed }, first, sense) => {
          const noise = noiseOf(seed);
          const plain = scan(scene, { samples: SAMPLES, start: OFF, noise: (_, k) => noise[k] });
          const other = scan(scene, { samples: SAMPLES, start: OFF + first * STEP, sense, noise: (_, k) => noise[k] });
          expectSame(summary(find(other), 0, 1), summary(find(plain), 0, 1));
        },
      ),
      { numRuns: 60 },
    );
  });
});

describe('nothing is invented', () => {
  const frame = (ranges: readonly number[]): ShapeFrame => {
    const count = ranges.length;
    const bearing = Float32Array.from({ length: count }, (_, i) =>
      Math.atan2(Math.sin(i * ((2 * Math.PI) / count)), Math.cos(i * ((2 * Math.PI) / count))),
    );
    const range = Float32Array.from(ranges, (r) => (r > 0 ? r : Infinity));
    const kind = Uint8Array.from(ranges, (r) => (r > 0 ? 0 : 1));
    const x = Float32Array.from(ranges, (r, i) => r * Math.cos(bearing[i]));
    const y = Float32Array.from(ranges, (r, i) => r * Math.sin(bearing[i]));
    return { count, bearing, range, kind, x, y, sense: 1 };
  };

  test.each([
    { name: 'an empty sweep', ranges: [] },
    { name: 'one sample without echo', ranges: [0] },
    { name: 'all without echo', ranges: new Array<number>(400).fill(0) },
  ])('$name: no shape at all', ({ ranges }) => {
    const shapes = find(frame(ranges));
    for (const list of [shapes.segments, shapes.walls, shapes.corners, shapes.openings, shapes.posts])
      expect(list).toEqual([]);
  });

  test.each([1, 2, 3])('%i echoes alone: segments, but neither wall, corner nor opening', (echoes) => {
    const shapes = find(frame(Array.from({ length: 400 }, (_, i) => (i < echoes ? 2 : 0))));
    expect(shapes.segments.length).toBe(1);
    for (const list of [shapes.walls, shapes.corners, shapes.openings]) expect(list).toEqual([]);
  });

  test('all echoes at one range, a circle about the sensor: no wall, corner, opening or post', () => {
    const shapes = find(frame(new Array<number>(400).fill(2)));
    expect(shapes.segments.length).toBe(1);
    for (const list of [shapes.walls, shapes.corners, shapes.openings, shapes.posts]) expect(list).toEqual([]);
  });

  test('noise without a scene: whatever comes is finite and the program stands', () => {
    fc.assert(
      fc.property(
        fc.array(fc.oneof(fc.constant(0), fc.double({ min: 0.15, max: 12, noNaN: true })), { maxLength: 500 }),
        (ranges) => {
          const shapes = find(frame(ranges));
          for (const list of [shapes.segments, shapes.walls, shapes.corners, shapes.openings, shapes.posts])
            for (const shape of list)
              for (const value of Object.values(shape))
                if (typeof value === 'number') expect(Number.isFinite(value)).toBe(true);
        },
      ),
      { numRuns: 300 },
    );
  });
});

describe('odd frames are refused at the door', () => {
  const good = scan({ walls: box(-2, -2, 2, 2) }, { samples: 90 });
  const broken = (change: (frame: { -readonly [K in keyof ShapeFrame]: ShapeFrame[K] }) => void): ShapeFrame => {
    const copy = {
      ...good,
      bearing: good.bearing.slice(),
      range: good.range.slice(),
      kind: good.kind.slice(),
      x: good.x.slice(),
      y: good.y.slice(),
    };
    change(copy);
    return copy;
  };
  const put = (column: 'range' | 'bearing' | 'x' | 'y', value: number): ShapeFrame =>
    broken((frame) => ((frame[column] as Float32Array)[7] = value));

  test.each([
    ['range NaN', put('range', NaN)],
    ['range infinite with an echo', put('range', Infinity)],
    ['range negative', put('range', -1)],
    ['range zero with an echo', put('range', 0)],
    ['bearing NaN', put('bearing', NaN)],
    ['bearing out of order', put('bearing', -0.5)],
    ['x NaN', put('x', NaN)],
    ['y infinite', put('y', -Infinity)],
    ['count beyond the columns', broken((frame) => (frame.count = 91))],
    ['count not whole', broken((frame) => (frame.count = 1.5))],
  ])('%s: RangeError', (_, frame) => {
    expect(() => find(frame)).toThrow(RangeError);
  });

  test.each([
    ['plain arrays', broken((frame) => (frame.range = [...good.range] as unknown as Float32Array))],
    ['sense 0', broken((frame) => (frame.sense = 0 as 1))],
  ])('%s: TypeError', (_, frame) => {
    expect(() => find(frame)).toThrow(TypeError);
  });
});
