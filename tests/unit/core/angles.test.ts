// Closed forms: an angle and its wrapped form have the same sine and cosine and lie in the stated span.
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { TAU, turnAngle, wrapAngle } from '../../../src/core/angles.js';

const angle = fc.double({ min: -1e3, max: 1e3, noNaN: true });

test.each([
  { given: 0, wrapped: 0, turned: 0 },
  { given: Math.PI, wrapped: -Math.PI, turned: Math.PI }, // half-open: π itself is -π
  { given: -Math.PI, wrapped: -Math.PI, turned: Math.PI },
  { given: TAU, wrapped: 0, turned: 0 },
  { given: 1.5 * Math.PI, wrapped: -0.5 * Math.PI, turned: 1.5 * Math.PI },
  { given: -0.5 * Math.PI, wrapped: -0.5 * Math.PI, turned: 1.5 * Math.PI },
])('$given rad', ({ given, wrapped, turned }) => {
  expect(wrapAngle(given)).toBeCloseTo(wrapped, 12);
  expect(turnAngle(given)).toBeCloseTo(turned, 12);
});

test.each([
  { given: -Number.MIN_VALUE, name: 'a hair below 0' },
  { given: -1e-17, name: 'less below 0 than 2π can tell' },
  { given: Math.PI - 2 ** -51, name: 'a hair below π' },
  { given: 3 * Math.PI, name: '3π, where rounding may land on the end' },
  { given: -TAU, name: '-2π' },
])('stays in its half-open span at $name', ({ given }) => {
  expect(wrapAngle(given)).toBeGreaterThanOrEqual(-Math.PI);
  expect(wrapAngle(given)).toBeLessThan(Math.PI);
  expect(turnAngle(given)).toBeGreaterThanOrEqual(0);
  expect(turnAngle(given)).toBeLessThan(TAU);
});

test('any angle keeps its direction and comes into the span', () => {
  fc.assert(
    fc.property(angle, (given) => {
      for (const [found, from] of [
        [wrapAngle(given), -Math.PI],
        [turnAngle(given), 0],
      ]) {
        expect(found).toBeGreaterThanOrEqual(from);
        expect(found).toBeLessThan(from + TAU);
        expect(Math.hypot(Math.cos(found) - Math.cos(given), Math.sin(found) - Math.sin(given))).toBeLessThan(1e-12);
      }
    }),
  );
});
