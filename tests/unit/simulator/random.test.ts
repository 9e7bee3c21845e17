import { expect, test } from 'vitest';
import { Random } from '../../../src/simulator/random.js';

// xoshiro128** 1.1 from the state {1, 2, 3, 4}: values of the authors' reference implementation
// (prng.di.unimi.it/xoshiro128starstar.c) as listed in the tests of the Rust crate rand_xoshiro.
test('follows the reference implementation', () => {
  const random = new Random([1, 2, 3, 4]);
  const expected = [
    11520, 0, 5927040, 70819200, 2031721883, 1637235492, 1287239034, 3734860849, 3729100597, 4258142804,
  ];
  expect(expected.map(() => random.next())).toEqual(expected);
});

test('one seed gives one sequence, near seeds do not', () => {
  const draw = (seed: number): number[] => {
    const random = new Random(seed);
    return Array.from({ length: 8 }, () => random.next());
  };
  expect(draw(5)).toEqual(draw(5));
  expect(new Set([...draw(5), ...draw(6), ...draw(0)]).size).toBe(24);
});

// Closed form: mean 0, variance 1, fourth moment 3; standard errors 1/√n, √(2/n), √(96/n). Five of them: one seed in 10^6 fails.
test('normal draws have the moments of the normal distribution', () => {
  const n = 200_000;
  const random = new Random(1);
  let sum = 0;
  let square = 0;
  let fourth = 0;
  for (let i = 0; i < n; i++) {
    const z = random.normal();
    sum += z;
    square += z * z;
    fourth += z ** 4;
  }
  expect(Math.abs(sum / n)).toBeLessThan(5 / Math.sqrt(n));
  expect(Math.abs(square / n - 1)).toBeLessThan(5 * Math.sqrt(2 / n));
  expect(Math.abs(fourth / n - 3)).toBeLessThan(5 * Math.sqrt(96 / n));
});
