// Circles against closed form and against scipy.optimize.least_squares on the same range residuals.
import { describe, expect, test } from 'vitest';
import { type Circle, fitCircle } from '../../../src/geometry/fitCircle.js';
import { hasNumpy, runPython } from '../../support/python.js';
import { seededRandom } from '../../support/random.js';

const circle = (): Circle => ({ x: 0, y: 0, radius: 0, varX: 0, varY: 0, varRadius: 0, chi: 0 });

/** Echoes of a circle's near side, range noise from `noise`. */
function echoes(cx: number, cy: number, radius: number, step: number, sigma: number, noise: () => number) {
  const x: number[] = [];
  const y: number[] = [];
  const d = Math.hypot(cx, cy);
  const half = 0.9 * Math.asin(radius / d);
  for (let t = Math.atan2(cy, cx) - half; t <= Math.atan2(cy, cx) + half; t += step) {
    const along = cx * Math.cos(t) + cy * Math.sin(t);
    const r = along - Math.sqrt(radius * radius - (d * d - along * along)) + noise();
    x.push(r * Math.cos(t));
    y.push(r * Math.sin(t));
  }
  const v = x.map((_, i) => (x[i] * x[i] + y[i] * y[i]) / (sigma * sigma));
  return { x: Float64Array.from(x), y: Float64Array.from(y), v: Float64Array.from(v) };
}

test('exact circles come back exactly', () => {
  for (const [cx, cy, radius] of [
    [2, 0, 0.2],
    [-1, 3, 0.5],
    [0, -4, 1],
  ]) {
    const { x, y, v } = echoes(cx, cy, radius, 0.01, 0.005, () => 0);
    const out = circle();
    expect(fitCircle(x, y, v, 0, x.length, out)).toBe(true);
    expect(out.x).toBeCloseTo(cx, 7);
    expect(out.y).toBeCloseTo(cy, 7);
    expect(out.radius).toBeCloseTo(radius, 7);
    expect(out.chi).toBeLessThan(1e-6);
  }
});

test('points of a line, and all-equal points, fit no circle', () => {
  const y = Float64Array.from({ length: 9 }, (_, i) => 0.1 * i);
  const x = new Float64Array(9).fill(2);
  const v = new Float64Array(9).fill(1e5);
  expect(fitCircle(x, y, v, 0, 9, circle())).toBe(false);
  expect(fitCircle(x, x, v, 0, 9, circle())).toBe(false);
});

test('a span shorter than three is refused', () => {
  const column = new Float64Array(4).fill(1);
  for (const [first, last] of [
    [0, 2],
    [2, 5],
    [-1, 3],
  ])
    expect(() => fitCircle(column, column, column, first, last, circle())).toThrow(RangeError);
});

describe.skipIf(!hasNumpy())('against scipy', () => {
  test('within its own standard deviation of least squares over range residuals', () => {
    const random = seededRandom(11);
    const normal = (): number => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
    for (const [cx, cy, radius] of [
      [1.5, 0.4, 0.3],
      [2, -1, 0.5],
      [-0.6, 1.1, 0.25],
    ]) {
      const { x, y, v } = echoes(cx, cy, radius, 0.008, 0.005, () => 0.005 * normal());
      const out = circle();
      expect(fitCircle(x, y, v, 0, x.length, out)).toBe(true);
      const [sx, sy, sr] = runPython(
        `import numpy as np
from scipy.optimize import least_squares
x=np.array(d["x"]); y=np.array(d["y"]); r=np.hypot(x,y); ux=x/r; uy=y/r
def f(p):
    g=ux*p[0]+uy*p[1]; q=p[2]**2-(p[0]**2+p[1]**2-g*g); return (r-(g-np.sqrt(np.maximum(q,1e-12))))/0.005
print(json.dumps(list(least_squares(f,d["start"]).x)))`,
        { x: [...x], y: [...y], start: [cx, cy, radius] },
      ) as number[];
      // beams near the rim count less here on purpose, since their width blurs it: the two need not agree better
      expect(Math.abs(out.radius - sr)).toBeLessThan(Math.sqrt(out.varRadius));
      expect(Math.hypot(out.x - sx, out.y - sy)).toBeLessThan(Math.sqrt(out.varX + out.varY));
    }
  });
});
