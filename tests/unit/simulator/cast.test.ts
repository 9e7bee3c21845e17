import { describe, expect, test } from 'vitest';
import { castRay as cast, FLOOR, incidence, mirrored, NOTHING } from '../../../src/simulator/cast.js';
import type { Scene } from '../../../src/simulator/scene.js';

const scene = (faces: number[][], rounds: number[][] = [], band = [0, 2]): Scene => ({
  faces: Float64Array.from(faces.flat()),
  rounds: Float64Array.from(rounds.flat()),
  low: new Float64Array(faces.length + rounds.length).fill(band[0]),
  high: new Float64Array(faces.length + rounds.length).fill(band[1]),
  surface: new Uint8Array(faces.length + rounds.length),
  names: [],
});
const hit = { range: 0, thing: 0 };
const castRay = (things: Scene, x: number, y: number, bearing: number): number =>
  cast(things, x, y, 0.15, bearing, 0, hit);
const box = scene([
  [0, 0, 6, 0],
  [6, 0, 6, 4.5],
  [6, 4.5, 0, 4.5],
  [0, 4.5, 0, 0],
]);
const degrees = Array.from({ length: 360 }, (_, i) => (i * Math.PI) / 180);

describe('faces', () => {
  // Closed form: from (x, y) in the box, the distance is the least of (wall - place) / direction over the two axes.
  test('a box is as far as its walls', () => {
    for (const a of degrees) {
      const x = 2.2;
      const y = 2;
      const alongX = Math.cos(a) >= 0 ? (6 - x) / Math.cos(a) : -x / Math.cos(a);
      const alongY = Math.sin(a) >= 0 ? (4.5 - y) / Math.sin(a) : -y / Math.sin(a);
      expect(castRay(box, x, y, a), `${a}`).toBeCloseTo(Math.min(alongX, alongY), 12);
    }
  });
  // Closed form: a line at distance d with normal n is d / cos(bearing - n) away, and only in front.
  test('a long wall at a slant', () => {
    const n = 0.7;
    const d = 2;
    const end = (s: number): number[] => [d * Math.cos(n) - s * Math.sin(n), d * Math.sin(n) + s * Math.cos(n)];
    const wall = scene([[...end(-1e6), ...end(1e6)]]);
    for (const a of degrees) {
      const c = Math.cos(a - n);
      if (Math.abs(c) < 1e-3) continue;
      const expected = c > 0 ? d / c : Infinity;
      expect(castRay(wall, 0, 0, a)).toBeCloseTo(expected, 8);
    }
  });
  test('a beam along a face, beside its ends or behind the start meets nothing', () => {
    const face = scene([[1, 0, 2, 0]]);
    expect(castRay(face, 0, 0, 0)).toBe(Infinity);
    expect(castRay(face, 0, 1, 0)).toBe(Infinity);
    expect(castRay(face, 1.5, 1, Math.PI / 2)).toBe(Infinity);
    expect(castRay(face, 1.5, 1, -Math.PI / 2)).toBeCloseTo(1, 15);
  });
  test('the nearest counts, whatever the order', () => {
    const faces = [
      [3, -1, 3, 1],
      [1, -1, 1, 1],
      [2, -1, 2, 1],
    ];
    expect(castRay(scene(faces), 0, 0, 0)).toBe(1);
    expect(castRay(scene(faces.toReversed()), 0, 0, 0)).toBe(1);
  });
});

describe('rounds', () => {
  // Closed form: a circle of radius r at distance c straight ahead: c cos a - √(r² - c² sin² a), up to asin(r / c).
  test('a post', () => {
    const c = 3;
    const r = 0.25;
    const post = scene([], [[c, 0, r]]);
    for (let a = -0.2; a <= 0.2; a += 0.001) {
      const expected =
        Math.abs(a) > Math.asin(r / c) ? Infinity : c * Math.cos(a) - Math.sqrt(r * r - (c * Math.sin(a)) ** 2);
      expect(castRay(post, 0, 0, a), `${a}`).toBeCloseTo(expected, 9);
    }
  });
  test('behind, inside and in front of a wall', () => {
    expect(castRay(scene([], [[-3, 0, 0.5]]), 0, 0, 0)).toBe(Infinity);
    expect(castRay(scene([], [[0.1, 0, 0.5]]), 0, 0, 0)).toBeCloseTo(0.6, 15);
    expect(castRay(scene([[5, -1, 5, 1]], [[3, 0, 0.5]]), 0, 0, 0)).toBeCloseTo(2.5, 15);
    expect(castRay(scene([[2, -1, 2, 1]], [[3, 0, 0.5]]), 0, 0, 0)).toBe(2);
  });
});

// A turn, a shift and a mirror of everything leave every range as it was.
test('ranges do not depend on the frame', () => {
  const faces = [
    [1, -2, 4, 1],
    [-3, -1, -2, 4],
  ];
  const rounds = [
    [0.5, 2, 0.3],
    [-1, -2, 0.1],
  ];
  const plain = scene(faces, rounds);
  const turn = 0.9;
  const place =
    (flip: number) =>
    (x: number, y: number): [number, number] => {
      return [7 + x * Math.cos(turn) - flip * y * Math.sin(turn), -3 + x * Math.sin(turn) + flip * y * Math.cos(turn)];
    };
  for (const flip of [1, -1]) {
    const at = place(flip);
    const moved = scene(
      faces.map(([a, b, c, d]) => [...at(a, b), ...at(c, d)]),
      rounds.map(([x, y, r]) => [...at(x, y), r]),
    );
    for (const a of degrees) {
      const expected = castRay(plain, 0.2, -0.1, a + 0.001);
      const [x, y] = at(0.2, -0.1);
      expect(castRay(moved, x, y, turn + flip * (a + 0.001))).toBeCloseTo(expected, 9);
    }
  }
});

describe('heights', () => {
  const face = [[2, -1, 2, 1]];
  // Closed form: a beam from height z that falls by s a metre is at z - s r after r metres, on the floor after z / s.
  test.each([
    { name: 'over a low thing', band: [0, 0.1], slope: 0, expected: Infinity, thing: NOTHING },
    { name: 'under a high one', band: [0.2, 1], slope: 0, expected: Infinity, thing: NOTHING },
    { name: 'down onto a low one', band: [0, 0.1], slope: -0.04, expected: 2, thing: 0 },
    { name: 'up to a high one', band: [0.2, 1], slope: 0.04, expected: 2, thing: 0 },
    { name: 'onto the floor before it', band: [0, 2], slope: -0.1, expected: 1.5, thing: FLOOR },
  ])('$name', ({ band, slope, expected, thing }) => {
    expect(cast(scene(face, [], band), 0, 0, 0.15, 0, slope, hit)).toBeCloseTo(expected, 12);
    expect(hit.thing).toBe(thing);
    const post = cast(scene([], [[2.5, 0, 0.5]], band), 0, 0, 0.15, 0, slope, hit);
    expect(post).toBeCloseTo(expected, 12);
  });
  test('a thing that the ray starts on can be passed over', () => {
    const two = scene([
      [1, -1, 1, 1],
      [2, -1, 2, 1],
    ]);
    expect(cast(two, 1, 0, 0.15, 0, 0, hit, 0)).toBe(1);
  });
});

// Law of reflection: the angle to the normal is kept, on the other side of it.
test('incidence and mirror of a slanted face and of a post', () => {
  const tilted = scene([[3 - Math.sin(0.4), -Math.cos(0.4), 3 + Math.sin(0.4), Math.cos(0.4)]]); // its normal is 0.4 rad clockwise of x
  cast(tilted, 0, 0, 0.15, 0.1, 0, hit);
  expect(incidence(tilted, 0, 0, 0.1, hit)).toBeCloseTo(Math.cos(0.5), 12);
  const on = mirrored(tilted, 0, 0.1);
  expect(Math.cos(on - (Math.PI - 0.4 - 0.5))).toBeCloseTo(1, 12);
  const post = scene([], [[2, 0, 0.5]]);
  expect(cast(post, 0, 0.3, 0.15, 0, 0, hit)).toBeCloseTo(2 - 0.4, 12); // 3-4-5 triangle
  expect(incidence(post, 0, 0.3, 0, hit)).toBeCloseTo(0.8, 12);
});
