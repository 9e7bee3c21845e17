// Least total costs from scipy 1.17.1, scipy.optimize.linear_sum_assignment, on seeded integer matrices (numpy default_rng(7)).
import { describe, expect, test } from 'vitest';
import { assign } from '../../../src/estimate/assign.js';

const cases = [
  { rows: 3, columns: 3, cost: [94, 62, 68, 89, 58, 77, 83, 23, 6], total: 157 },
  {
    rows: 4,
    columns: 6,
    cost: [30, 29, 87, 91, 1, 50, 82, 14, 79, 12, 47, 81, 31, 34, 28, 72, 26, 99, 45, 48, 50, 58, 55, 51],
    total: 86,
  },
  {
    rows: 6,
    columns: 4,
    cost: [99, 80, 79, 70, 62, 34, 98, 47, 22, 84, 16, 85, 61, 12, 5, 45, 4, 15, 51, 97, 47, 81, 91, 82],
    total: 79,
  },
  {
    rows: 8,
    columns: 8,
    cost: [
      63, 44, 51, 27, 50, 38, 25, 99, 2, 10, 20, 96, 69, 88, 20, 72, 37, 49, 1, 62, 83, 66, 16, 53, 27, 96, 88, 19, 51,
      94, 84, 71, 64, 5, 74, 47, 10, 25, 54, 72, 51, 61, 87, 68, 36, 64, 60, 11, 6, 66, 39, 60, 32, 23, 15, 38, 81, 40,
      38, 57, 97, 39, 59, 44,
    ],
    total: 121,
  },
  { rows: 1, columns: 5, cost: [60, 45, 64, 55, 67], total: 45 },
  {
    rows: 7,
    columns: 3,
    cost: [95, 15, 56, 44, 36, 24, 6, 40, 82, 10, 41, 96, 95, 22, 1, 67, 2, 30, 50, 87, 10],
    total: 9,
  },
];

describe('assign', () => {
  test.each(cases)('$rows x $columns costs $total', ({ rows, columns, cost, total }) => {
    const partner = assign(Float64Array.from(cost), rows, columns, 1e6); // nobody stays alone who need not
    let sum = 0;
    const taken = new Set<number>();
    partner.forEach((j, i) => {
      if (j < 0) return;
      expect(taken.has(j)).toBe(false);
      taken.add(j);
      sum += cost[i * columns + j];
    });
    expect(taken.size).toBe(Math.min(rows, columns));
    expect(sum).toBe(total);
  });

  test('a pair dearer than leaving both alone is not made, and a forbidden one never', () => {
    expect([...assign(Float64Array.of(3, 30, 30, 30), 2, 2, 10)]).toEqual([0, -1]);
    expect([...assign(Float64Array.of(Infinity, 1, Infinity, 2), 2, 2, 10)]).toEqual([1, -1]);
    expect([...assign(new Float64Array(0), 0, 3, 10)]).toEqual([]);
    expect([...assign(new Float64Array(0), 2, 0, 10)]).toEqual([-1, -1]);
  });
});
