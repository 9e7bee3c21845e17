// 3 x 3 example of Golub & Van Loan's kind worked by hand: A = L Lᵀ with L = [2 0 0; 6 1 0; -8 5 3].
import { describe, expect, test } from 'vitest';
import { rangeSigma } from '../../../src/estimate/noise.js';
import { factor, invertFactored, solveFactored } from '../../../src/estimate/symmetric.js';

const A = Float64Array.of(4, 12, -16, 12, 37, -43, -16, -43, 98);

describe('symmetric systems', () => {
  test('factor, solve, invert', () => {
    const l = new Float64Array(9);
    expect(factor(A, 3, l)).toBe(true);
    expect([l[0], l[3], l[4], l[6], l[7], l[8]]).toEqual([2, 6, 1, -8, 5, 3]);
    const x = Float64Array.of(4 - 16, 12 - 43, -16 + 98); // A [1, 0, 1]
    solveFactored(l, 3, x);
    [1, 0, 1].forEach((v, i) => {
      expect(x[i]).toBeCloseTo(v, 10);
    });
    const inverse = new Float64Array(9);
    invertFactored(l, 3, inverse, new Float64Array(9));
    for (let i = 0; i < 3; i++) {
      for (let j = 0; j < 3; j++) {
        let sum = 0;
        for (let k = 0; k < 3; k++) sum += A[3 * i + k] * inverse[3 * k + j];
        expect(sum).toBeCloseTo(i === j ? 1 : 0, 9);
      }
    }
  });

  test('what is not positive definite is told', () => {
    expect(factor(Float64Array.of(1, 2, 2, 1), 2, new Float64Array(4))).toBe(false);
  });
});

test('range noise: 5 mm near, 14 mm at 4 m, 120 mm at 12 m for 5 mm and 5 mm at 6 m per squared range (worlds’ description)', () => {
  const noise = { constant: 0.005, growth: 0.005 / 6 };
  expect(rangeSigma(noise, 0.5)).toBeCloseTo(0.005, 4);
  expect(rangeSigma(noise, 4)).toBeCloseTo(0.0142, 4);
  expect(rangeSigma(noise, 12)).toBeCloseTo(0.1201, 4);
});
