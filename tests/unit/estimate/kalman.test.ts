// Steady state from scipy 1.17.1, scipy.linalg.solve_discrete_are (t 0.1 s, density 0.5 m²/s³, measurement 0.04 m).
// Without wandering the filter is the least squares line through the places (closed form: Bar-Shalom, Li & Kirubarajan 2001, 3.4-3.5).
import { describe, expect, test } from 'vitest';
import { PlanarKalman } from '../../../src/estimate/kalman.js';

describe('PlanarKalman', () => {
  test('its covariance settles at the solution of the Riccati equation', () => {
    const k = new PlanarKalman(0, 0, 1, 1);
    for (let i = 0; i < 500; i++) {
      k.predict(0.1, 0.5);
      if (i === 499) {
        expect(k.p[0]).toBeCloseTo(0.0030054744889986226, 9);
        expect(k.p[2]).toBeCloseTo(0.015174772632561354, 9);
        expect(k.p[10]).toBeCloseTo(0.12402864977856835, 9);
      }
      k.update(0, 0, 0.0016, 0, 0.0016);
    }
    expect(k.p[0]).toBeCloseTo(0.0010441397936053654, 9);
    expect(k.p[7]).toBeCloseTo(0.005271907654704507, 9);
    expect(k.p[15]).toBeCloseTo(0.07402864977856795, 9);
  });

  test('without wandering it gives the least squares line', () => {
    const places = [0.02, 0.13, 0.18, 0.33, 0.41, 0.48];
    const k = new PlanarKalman(0, 0, 1e3, 1e3);
    places.forEach((x, i) => {
      if (i > 0) k.predict(0.1, 0);
      k.update(x, -2 * x, 0.01, 0, 0.01);
    });
    const n = places.length;
    const mt = places.reduce((s, _, i) => s + 0.1 * i, 0) / n;
    const mx = places.reduce((s, x) => s + x, 0) / n;
    const slope =
      places.reduce((s, x, i) => s + (0.1 * i - mt) * (x - mx), 0) /
      places.reduce((s, _, i) => s + (0.1 * i - mt) ** 2, 0);
    expect(k.vx).toBeCloseTo(slope, 6);
    expect(k.vy).toBeCloseTo(-2 * slope, 6);
    expect(k.x).toBeCloseTo(mx + slope * (0.1 * (n - 1) - mt), 6);
  });

  test('distance is Mahalanobis’s', () => {
    const k = new PlanarKalman(1, 2, 0.3, 1);
    expect(k.distance(1.5, 2, 0.16, 0, 0.16)).toBeCloseTo(0.25 / (0.09 + 0.16), 12);
  });
});
