// Closed forms: straight motion past a rectangle.
import { expect, test } from 'vitest';
import { closestApproach } from '../../../../src/perception/movers/approach.js';

const box = [
  [0.2, 0.1],
  [-0.2, 0.1],
  [-0.2, -0.1],
  [0.2, -0.1],
] as const;

test.each([
  { name: 'straight at the front', at: [2.2, 0, -1, 0], distance: 0, when: 2 },
  { name: 'past the left side', at: [2, 0.6, -1, 0], distance: 0.5, when: 1.8 },
  { name: 'past a corner, diagonally', at: [1.2, 0.1, -1, 1], distance: Math.SQRT1_2, when: 0.5 },
  { name: 'going away', at: [1, 0, 1, 0], distance: 0.8, when: 0 },
  { name: 'standing', at: [0, 1.1, 0, 0], distance: 1, when: 0 },
  { name: 'inside', at: [0.1, 0, 1, 0], distance: 0, when: 0 },
  { name: 'farther than the horizon', at: [10.2, 0, -1, 0], distance: 5, when: 5 },
])('$name', ({ at, distance, when }) => {
  const [x, y, vx, vy] = at as [number, number, number, number];
  const found = closestApproach(box, x, y, vx, vy, 5);
  expect(found.distance).toBeCloseTo(distance, 9);
  expect(found.in).toBeCloseTo(when, 9);
});
