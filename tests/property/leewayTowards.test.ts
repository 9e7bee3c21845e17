import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type Clearance, leewayTowards, type Point, type SectorState } from '../../clients/typescript/src/client.js';

const TAU = 2 * Math.PI;
const SEED = Number(process.env.SEED ?? 20260101);
console.log(`leewayTowards: seed ${SEED}`);
fc.configureGlobal({ seed: SEED });

function clearanceOf(leewayM: readonly number[], state: readonly SectorState[], firstBearingRad = 0): Clearance {
  const rest = leewayM.map(() => 0);
  return { firstBearingRad, state, leewayM, nearestM: rest, ageS: rest, thinnestM: rest, aheadM: 0 };
}
const seen = (leewayM: readonly number[], first = 0): Clearance =>
  clearanceOf(
    leewayM,
    leewayM.map((): SectorState => 'obstacle'),
    first,
  );

// ---- independent geometry, by sampling: nothing of the client's is used below this line

type Pair = readonly [number, number];

function isInside(polygon: readonly Pair[], [px, py]: Pair): boolean {
  let inside = false;
  for (let i = 0, j = polygon.length - 1; i < polygon.length; j = i++) {
    const [xi, yi] = polygon[i];
    const [xj, yj] = polygon[j];
    if (yi > py !== yj > py && px < ((xj - xi) * (py - yi)) / (yj - yi) + xi) inside = !inside;
  }
  return inside;
}

function distance(polygon: readonly Pair[], [px, py]: Pair): number {
  if (isInside(polygon, [px, py])) return 0;
  return Math.min(
    ...polygon.map(([ax, ay], i) => {
      const [bx, by] = polygon[(i + 1) % polygon.length];
      const length = Math.hypot(bx - ax, by - ay);
      const along = Math.min(length, Math.max(0, ((px - ax) * (bx - ax) + (py - ay) * (by - ay)) / length));
      return Math.hypot(px - ax - ((bx - ax) * along) / length, py - ay - ((by - ay) * along) / length);
    }),
  );
}

const sectorOf = (sectors: number, first: number, [x, y]: Pair): number =>
  Math.floor(((((Math.atan2(y, x) - first) % TAU) + TAU) % TAU) / (TAU / sectors)) % sectors;

/** The way after which a translate of the polygon first covers a point of each sector outside the polygon, by brute force. */
function entries(polygon: readonly Pair[], bearing: number, sectors: number, first: number, reach: number): number[] {
  const found = Array.from({ length: sectors }, () => Infinity);
  for (let step = 1; step <= 300; step++) {
    const way = (reach * step) / 300;
    const [dx, dy] = [way * Math.cos(bearing), way * Math.sin(bearing)];
    for (let i = 0; i < polygon.length; i++) {
      const [ax, ay] = polygon[i];
      const [bx, by] = polygon[(i + 1) % polygon.length];
      for (let part = 0; part < 60; part++) {
        const at: Pair = [ax + (part / 60) * (bx - ax) + dx, ay + (part / 60) * (by - ay) + dy];
        if (isInside(polygon, at)) continue;
        const k = sectorOf(sectors, first, at);
        found[k] = Math.min(found[k], way);
      }
    }
  }
  return found;
}

// ---- what goes in

const points = (corners: readonly Pair[]): Point[] => corners.map(([xM, yM]) => ({ xM, yM }));

/** A star-shaped polygon about the origin: a corner a bearing, radii free. Convex where `hull`. */
const star = fc
  .array(
    fc.record({
      turn: fc.double({ min: 0.2, max: 1, noNaN: true }),
      radius: fc.double({ min: 0.1, max: 0.5, noNaN: true }),
    }),
    {
      minLength: 4,
      maxLength: 9,
    },
  )
  .map((corners) => {
    const total = corners.reduce((sum, { turn }) => sum + turn, 0);
    let bearing = 0;
    return corners.map(({ turn, radius }): Pair => {
      bearing += (TAU * turn) / total;
      return [radius * Math.cos(bearing), radius * Math.sin(bearing)];
    });
  })
  .filter((corners) => isInside(corners, [0, 0]));

const rectangle = fc
  .record({
    front: fc.double({ min: 0.05, max: 0.5, noNaN: true }),
    back: fc.double({ min: 0.05, max: 0.5, noNaN: true }),
    half: fc.double({ min: 0.05, max: 0.4, noNaN: true }),
  })
  .map(({ front, back, half }): Pair[] => [
    [front, half],
    [-back, half],
    [-back, -half],
    [front, -half],
  ]);

const bearing = fc.double({ min: -Math.PI, max: Math.PI, noNaN: true });
const first = fc.double({ min: -1, max: 1, noNaN: true });

describe('against things that stand around', () => {
  test('going as far as it says touches nothing', () => {
    const things = fc.array(
      fc.tuple(fc.double({ min: -2, max: 2, noNaN: true }), fc.double({ min: -2, max: 2, noNaN: true })),
      { minLength: 1, maxLength: 12 },
    );
    fc.assert(
      fc.property(
        fc.oneof(star, rectangle),
        things,
        bearing,
        first,
        fc.constantFrom(8, 36, 72),
        (outline, all, towards, firstBearing, sectors) => {
          const outside = all.filter((thing) => distance(outline, thing) > 1e-6);
          const leeway = Array.from({ length: sectors }, () => 3);
          for (const thing of outside) {
            const k = sectorOf(sectors, firstBearing, thing);
            leeway[k] = Math.min(leeway[k], distance(outline, thing)); // as the contract defines it
          }
          const far = leewayTowards(towards, seen(leeway, firstBearing), points(outline), 3);
          for (let step = 0; step <= 200; step++) {
            const way = (far * step) / 200 - 1e-6; // it may touch at the very end
            for (const [x, y] of outside) {
              expect(isInside(outline, [x - way * Math.cos(towards), y - way * Math.sin(towards)])).toBe(false);
            }
          }
        },
      ),
      { numRuns: 300 },
    );
  });
});

describe('against a sweep by brute force', () => {
  const leeways = (sectors: number): fc.Arbitrary<number[]> =>
    fc.array(fc.oneof({ weight: 5, arbitrary: fc.double({ min: 0, max: 3, noNaN: true }) }, fc.constant(0)), {
      minLength: sectors,
      maxLength: sectors,
    });
  const reach = 3;
  const expected = (entered: readonly number[], leeway: readonly number[]): number =>
    leeway.reduce((least, vouched, k) => Math.min(least, Math.max(vouched, entered[k])), reach);

  test('a rectangle: the same, but for sectors that only a corner touches', () => {
    fc.assert(
      fc.property(rectangle, bearing, leeways(24), (outline, towards, leeway) => {
        const said = leewayTowards(towards, seen(leeway), points(outline), reach);
        const entered = entries(outline, towards, 24, 0, reach);
        const brute = expected(entered, leeway);
        expect(said).toBeLessThanOrEqual(brute + 0.011); // one step of the sweep
        // a sector that the outline enters by a hair is found or not by sampling: neighbours count too
        const touched = leeway.map((vouched, k) =>
          entered[k] < Infinity || isNeighbour(entered, k) ? vouched : reach,
        );
        expect(said).toBeGreaterThanOrEqual(Math.min(reach, ...touched) - 0.011);
      }),
      { numRuns: 60 },
    );
  });

  test('any outline: never more', () => {
    fc.assert(
      fc.property(star, bearing, first, leeways(36), (outline, towards, firstBearing, leeway) => {
        const said = leewayTowards(towards, seen(leeway, firstBearing), points(outline), reach);
        expect(said).toBeLessThanOrEqual(expected(entries(outline, towards, 36, firstBearing, reach), leeway) + 0.011);
      }),
      { numRuns: 60 },
    );
  });

  function isNeighbour(entered: readonly number[], k: number): boolean {
    const n = entered.length;
    return entered[(k + 1) % n] < Infinity || entered[(k + n - 1) % n] < Infinity;
  }
});

describe('a rectangle 0.4 m long and 0.32 m wide in 72 sectors', () => {
  const outline = points([
    [0.2, 0.16],
    [-0.2, 0.16],
    [-0.2, -0.16],
    [0.2, -0.16],
  ]);
  // Ahead sweeps what its front edge covers: bearings up to atan(0.16 / 0.2) = 38.66 degrees, sectors of 5 degrees 0..7 and 64..71.
  const all = (value: number): number[] => Array.from({ length: 72 }, () => value);
  const but = (k: number, value: number): number[] => all(2).with(k, value);

  test.each([0, 7, 64, 71])('ahead sweeps sector %i', (k) => {
    expect(leewayTowards(0, seen(but(k, 0.5)), outline, 12)).toBe(0.5);
    expect(
      leewayTowards(
        0,
        clearanceOf(
          all(2),
          all(0).map((_, i): SectorState => (i === k ? 'unknown' : 'clear')),
        ),
        outline,
        12,
      ),
    ).toBe(0);
  });
  test.each([8, 18, 36, 63])('ahead does not sweep sector %i', (k) => {
    expect(leewayTowards(0, seen(but(k, 0.5)), outline, 12)).toBe(2);
  });
  test('a diagonal sweeps what two edges cover: from the one far corner to the other', () => {
    // towards 45 degrees the front and the left edge lead: bearings from -38.66 to 180 - 38.66 = 141.34 degrees, sectors 64..71, 0..28
    for (const k of [0, 9, 28, 64]) expect(leewayTowards(Math.PI / 4, seen(but(k, 0.5)), outline, 12)).toBe(0.5);
    for (const k of [29, 40, 63]) expect(leewayTowards(Math.PI / 4, seen(but(k, 0.5)), outline, 12)).toBe(2);
  });
  test.each([
    // half a turn about the origin maps ahead's sectors k to k + 36; left and right take the long edges: 38.66 to 141.34 degrees
    [Math.PI, [28, 36, 43], [8, 27, 44]],
    [Math.PI / 2, [7, 18, 28], [6, 29, 64]],
    [-Math.PI / 2, [43, 54, 64], [42, 65, 0]],
    [(5 * Math.PI) / 2, [7, 18, 28], [6, 29, 64]],
  ])('towards %f, edges along the way sweep nothing', (towards, swept, passed) => {
    for (const k of swept) expect(leewayTowards(towards, seen(but(k, 0.5)), outline, 12)).toBe(0.5);
    for (const k of passed) expect(leewayTowards(towards, seen(but(k, 0.5)), outline, 12)).toBe(2);
  });
  test('backwards and clockwise corners give the same', () => {
    expect(leewayTowards(0, seen(but(7, 0.5)), outline.toReversed(), 12)).toBe(0.5);
    expect(leewayTowards(0, seen(but(8, 0.5)), outline.toReversed(), 12)).toBe(2);
  });
  test('reach caps it', () => {
    expect(leewayTowards(0, seen(all(50)), outline, 12)).toBe(12);
  });
});

test('a notch in the side: what stands in it is met, though its sectors lie beside the way', () => {
  // a cart open to the left, between two arms: going ahead its hind arm sweeps the notch
  const outline: Pair[] = [
    [0.5, -0.2],
    [0.5, 0.4],
    [0.3, 0.4],
    [0.3, 0],
    [-0.3, 0],
    [-0.3, 0.4],
    [-0.5, 0.4],
    [-0.5, -0.2],
  ];
  const post: Pair = [0, 0.3]; // 0.3 m ahead of the hind arm and beside the origin
  const leeway = Array.from({ length: 72 }, () => 2);
  leeway[18] = distance(outline, post); // 90 to 95 degrees
  leeway[17] = leeway[18];
  const far = leewayTowards(0, seen(leeway), points(outline), 12);
  expect(far).toBeLessThanOrEqual(0.3);
  expect(far).toBeGreaterThan(0.2);
});

describe('what is missing is no room', () => {
  const outline = points([
    [0.2, 0.16],
    [-0.2, 0.16],
    [-0.2, -0.16],
    [0.2, -0.16],
  ]);
  const two = Array.from({ length: 72 }, () => 2);
  test.each([
    ['a bearing', leewayTowards(NaN, seen(two), outline, 12)],
    ['an outline', leewayTowards(0, seen(two), outline.slice(2), 12)],
    ['sectors', leewayTowards(0, seen([]), outline, 12)],
    ['reach', leewayTowards(0, seen(two), outline, NaN)],
    ['a figure', leewayTowards(0, seen(two.with(3, NaN)), outline, 12)],
    ['the last figures', leewayTowards(0, { ...seen(two), leewayM: two.slice(0, 70) }, outline, 12)],
  ])('%s', (_what, leeway) => {
    expect(leeway).toBe(0);
  });
});

test('a turn of everything turns the answer with it', () => {
  fc.assert(
    fc.property(
      star,
      bearing,
      bearing,
      fc.array(fc.double({ min: 0, max: 3, noNaN: true }), { minLength: 36, maxLength: 36 }),
      (outline, towards, turn, leeway) => {
        const turned = outline.map(
          ([x, y]): Pair => [x * Math.cos(turn) - y * Math.sin(turn), x * Math.sin(turn) + y * Math.cos(turn)],
        );
        const before = leewayTowards(towards, seen(leeway), points(outline), 3);
        const after = leewayTowards(towards + turn, seen(leeway, turn), points(turned), 3);
        expect(after).toBeCloseTo(before, 6);
      },
    ),
    { numRuns: 200 },
  );
});
