// The pure parts of bring-up by hand-made values: closed forms, worked out beside them.
import { describe, expect, test } from 'vitest';
import { batchingOf } from '../../../src/bringup/batching.js';
import { compare } from '../../../src/bringup/compare.js';
import type { Figures } from '../../../src/bringup/examine.js';
import { quantile } from '../../../src/bringup/quantile.js';
import { ringOf } from '../../../src/bringup/ring.js';
import { binOf, runsOf, stretchOf } from '../../../src/bringup/stretches.js';
import { DEFAULT_NOISE } from '../../../src/estimate/noise.js';
import { Outline } from '../../../src/geometry/outline.js';

const FIGURES: Figures = {
  spin_hz: 10,
  spin_spread: 0.005,
  samples_per_s: 2000,
  valid_share: 0.98,
  noise_m: 0.005,
  noise_at_m: 1,
  roughness_m: 0,
  step_m: 0.00025,
  chunk_gap_s: 0.004,
  skipped_share: 0,
};
const mount = { x: 0, y: 0, z: 0.15, yaw: 0, pitch: 0, roll: 0, upsideDown: false };

describe('stretches', () => {
  test('runs round the circle, whole over its end', () => {
    const isIn = (set: readonly number[]) => (bin: number) => set.includes(bin);
    expect(runsOf(8, isIn([]))).toEqual([]);
    expect(runsOf(8, isIn([0, 1, 2, 3, 4, 5, 6, 7]))).toEqual([{ first: 0, last: 8 }]);
    expect(runsOf(8, isIn([0, 2, 3]))).toEqual([
      { first: 0, last: 1 },
      { first: 2, last: 4 },
    ]);
    expect(runsOf(8, isIn([0, 6, 7]))).toEqual([{ first: 6, last: 9 }]);
    expect(runsOf(8, isIn([7]))).toEqual([{ first: 7, last: 8 }]);
    expect(stretchOf({ first: 6, last: 9 }, 8)).toEqual({ from: Math.PI / 2, to: -3 * (Math.PI / 4) });
    expect(binOf(-Math.PI, 8)).toBe(0);
    expect(binOf(Math.PI - 1e-9, 8)).toBe(7);
  });
  test('quantiles between neighbours', () => {
    expect(quantile([4, 1, 3, 2], 0.5)).toBe(2.5);
    expect(quantile([5], 0.9)).toBe(5);
    expect(quantile([], 0.5)).toBeNaN();
  });
});

test('batching: late chunks, but not those of a layout with long packets', () => {
  const every = (gap: number): number[] => Array.from({ length: 50 }, (_, i) => i * gap);
  expect(batchingOf(every(0.016), 0.0005).isBatched).toBe(true);
  expect(batchingOf(every(0.004), 0.0005).isBatched).toBe(false);
  expect(batchingOf(every(0.0088), 0.0073).isBatched).toBe(false); // 84 bytes at 115200 baud take 7.3 ms
  expect(batchingOf(every(0.049), 0.049).isBatched).toBe(false); // 47 bytes at 9600 baud take 49 ms
});

test('the blind ring: 0.3 m about the middle of a square of half width 0.2 m', () => {
  const square = new Outline([
    [0.2, 0.2],
    [-0.2, 0.2],
    [-0.2, -0.2],
    [0.2, -0.2],
  ]);
  const parts = ringOf(square, { mount, reach: [0.3, 12], range: { offset: 0, scale: 1 }, masks: [] });
  expect(parts).toHaveLength(4); // over each side; the corners are sqrt(2) 0.2 = 0.283 m away, 1.7 cm inside the ring
  for (const { beyond } of parts) expect(beyond).toBeCloseTo(0.1, 2);
  expect(ringOf(square, { mount, reach: [0.2, 12], range: { offset: 0, scale: 1 }, masks: [] })).toEqual([]);
});

describe('the baseline', () => {
  const worse = (change: Partial<Figures>): string =>
    compare({ ...FIGURES, ...change }, FIGURES, DEFAULT_NOISE)?.message ?? '';
  test('the same, and a farther wall with the noise of its range, are no worse', () => {
    expect(worse({})).toBe('');
    // sigma at 4 m = hypot(5 mm, 16 m² x 0.83 mm/m²) = 14.2 mm, and 5.07 mm at 1 m
    expect(worse({ noise_m: 0.0142, noise_at_m: 4 })).toBe('');
    expect(worse({ noise_m: null, noise_at_m: null })).toBe('');
  });
  test.each([
    [{ noise_m: 0.01 }, 'noise is 2.0 times'],
    [{ spin_hz: 8 }, 'spin was 10.0, is 8.0'],
    [{ spin_spread: 0.02 }, '4 times as uneven'],
    [{ samples_per_s: 1700 }, 'samples fell from 2000 to 1700'],
    [{ valid_share: 0.7 }, 'echoes fell from 98 % to 70 %'],
  ])('%j', (change, says) => expect(worse(change)).toContain(says));
});
