import { describe, expect, test } from 'vitest';
import { straightness } from '../../../src/geometry/straightness.js';

const deg = Math.PI / 180;
/** A wall straight ahead at `distance`, from -75 to 75 degrees, turned by `turn`. */
const wall = (distance: number, turn = 0, mirror = 1) => {
  const b = Array.from({ length: 301 }, (_, i) => (i / 2 - 75) * deg);
  return {
    bearing: Float32Array.from(b, (x) => mirror * x + turn),
    range: Float32Array.from(b, (x) => distance / Math.cos(x)),
  };
};

describe('straightness', () => {
  test('a straight wall is straight, turned, mirrored, near or far', () => {
    for (const { bearing, range } of [wall(1), wall(1, 2.5), wall(1, 1, -1), wall(6)]) {
      const { roughness, walls } = straightness([bearing], range);
      expect(roughness[0]).toBeLessThan(1e-6);
      expect(walls).toBeGreaterThanOrEqual(3);
    }
  });

  test('a known ripple comes out as its rms: a over the square root of 2', () => {
    const { bearing, range } = wall(1);
    // echoes set off the wall by 5 mm, alternating, across it: x = 1 +- 0.005
    const off = range.map((r, i) => r + ((i % 2 ? 1 : -1) * 0.005) / Math.cos(bearing[i]));
    expect(straightness([bearing], off).roughness[0]).toBeCloseTo(0.005, 4);
  });

  test('of two readings the false one is rough, and the walls are those that one of them makes', () => {
    const { bearing, range } = wall(0.6);
    const bent = bearing.map((b, i) => b + Math.atan(0.0218 * (1 / range[i] - 1 / 0.1553))); // as where the beam leaves aside
    const { roughness, walls } = straightness([bent, bearing], range);
    expect(walls).toBeGreaterThanOrEqual(3);
    expect(roughness[1]).toBeLessThan(1e-6);
    expect(roughness[0]).toBeGreaterThan(0.0021); // 2.13 mm within 60 degrees either side, worked out apart (numpy, singular values)
  });

  test('no echoes, no wall; columns of different lengths are a bug', () => {
    expect(straightness([new Float32Array(500)], new Float32Array(500))).toEqual({
      roughness: Float64Array.of(NaN),
      walls: 0,
      echoes: 0,
    });
    expect(straightness([], new Float32Array(0)).walls).toBe(0);
    const round = Float32Array.from({ length: 200 }, (_, i) => i * 1.8 * deg);
    expect(
      straightness(
        [round],
        round.map(() => 1),
      ).walls,
    ).toBe(0); // the inside of a cylinder: some 25 cm off within 120 degrees
    expect(() => straightness([new Float32Array(3)], new Float32Array(4))).toThrow(RangeError);
  });
});
