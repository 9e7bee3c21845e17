// Line fits against reference/line-fit.json (own computation of whoever wrote it: moments, double sum and eigenvectors agree
// to 1e-12, covariance after Arras & Siegwart 1997 checked there by Monte Carlo), and against numpy where Debian's is installed.
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { MOMENTS, runMoments, spanChi } from '../../../src/geometry/beamLine.js';
import { fitLine, type LineTable } from '../../../src/geometry/fitLine.js';
import { LineRows } from '../../../src/perception/shapes/lineRows.js';
import { hasNumpy, runPython } from '../../support/python.js';
import { seededRandom } from '../../support/random.js';
import { sharedPath } from '../../support/sharedData.js';

const DEG = Math.PI / 180;

interface Reference {
  worked_example: {
    theta_deg: number[];
    rho_m: number[];
    results: Array<{
      weights: string;
      alpha_deg: number;
      r_m: number;
      rms_residual_m: number;
      cov: { var_alpha_rad2: number; cov_alpha_r_rad_m: number; var_r_m2: number };
    }>;
  };
  exact_lines: Array<{
    alpha_true_deg: number;
    r_true: number;
    alpha_deg: number;
    sigma_alpha_deg: number;
    sigma_r: number;
  }>;
  precision_floor: Array<{
    D: number;
    L: number;
    step_deg: number;
    sigma_m: number;
    N: number;
    sigma_r_mm: number;
    sigma_alpha_deg: number;
    sigma_r_mm_w: number;
    sigma_alpha_deg_w: number;
  }>;
}

const table = (): LineTable => {
  const column = (): Float64Array => new Float64Array(1);
  return {
    bearing: column(),
    range: column(),
    rms: column(),
    varRange: column(),
    covRangeBearing: column(),
    varBearing: column(),
  };
};

function fitted(
  bearing: readonly number[],
  range: readonly number[],
  weight: readonly number[],
  sigma: number,
): LineTable {
  const x = Float64Array.from(bearing, (t, i) => range[i] * Math.cos(t));
  const y = Float64Array.from(bearing, (t, i) => range[i] * Math.sin(t));
  const out = table();
  const variance = new Float64Array(x.length).fill(sigma * sigma);
  fitLine(x, y, Float64Array.from(weight), variance, 0, x.length, out, 0);
  return out;
}

/** The line as beams see it, with a range noise of `sigma` at every range. */
function beamFit(bearing: readonly number[], range: readonly number[], sigma: number): { rows: LineRows; chi: number } {
  const n = bearing.length;
  const x = Float64Array.from(bearing, (t, i) => range[i] * Math.cos(t));
  const y = Float64Array.from(bearing, (t, i) => range[i] * Math.sin(t));
  const v = Float64Array.from(range, (r) => (r * r) / (sigma * sigma));
  const sums = new Float64Array((n + 1) * MOMENTS);
  runMoments(x, y, v, n, sums);
  const rows = new LineRows();
  rows.reserve(1);
  rows.setSpan(0, sums, 0, n);
  return { rows, chi: spanChi(sums, 0, n) };
}

const file = sharedPath('reference/line-fit.json');

describe.skipIf(file === undefined)('line-fit.json', () => {
  const reference = file === undefined ? undefined : (JSON.parse(readFileSync(file, 'utf8')) as Reference);
  const example = (reference as Reference)?.worked_example;

  test('the worked example with three kinds of weights, and its covariance', () => {
    const powers: Record<string, number> = {
      unit: 0,
      '1/rho^2 (sigma ~ rho)': 2,
      '1/rho^4 (sigma ~ rho^2, triangulation)': 4,
    };
    const bearing = example.theta_deg.map((t) => t * DEG);
    for (const result of example.results) {
      const power = powers[result.weights];
      expect(power).toBeDefined();
      const out = fitted(
        bearing,
        example.rho_m,
        example.rho_m.map((r) => r ** -power),
        0.01,
      );
      expect(out.bearing[0] / DEG).toBeCloseTo(result.alpha_deg, 6);
      expect(out.range[0]).toBeCloseTo(result.r_m, 8);
      expect(out.varBearing[0] / result.cov.var_alpha_rad2).toBeCloseTo(1, 6);
      expect(out.covRangeBearing[0] / result.cov.cov_alpha_r_rad_m).toBeCloseTo(1, 5);
      expect(out.varRange[0] / result.cov.var_r_m2).toBeCloseTo(1, 6);
      if (power === 0) expect(out.rms[0]).toBeCloseTo(result.rms_residual_m, 9);
    }
  });

  test('exact lines all round, by both fits', () => {
    for (const line of (reference as Reference).exact_lines) {
      const bearing = Array.from({ length: 17 }, (_, i) => (line.alpha_true_deg - 40 + 5 * i) * DEG);
      const range = bearing.map((t) => line.r_true / Math.cos(t - line.alpha_true_deg * DEG));
      const out = fitted(
        bearing,
        range,
        range.map(() => 1),
        0.01,
      );
      const off = (out.bearing[0] / DEG - line.alpha_true_deg + 540) % 360;
      expect(off).toBeCloseTo(180, 8);
      expect(out.range[0]).toBeCloseTo(line.r_true, 9);
      expect(Math.sqrt(out.varBearing[0]) / DEG / line.sigma_alpha_deg).toBeCloseTo(1, 6);
      expect(Math.sqrt(out.varRange[0]) / line.sigma_r).toBeCloseTo(1, 6);
      const { rows, chi } = beamFit(bearing, range, 0.01);
      expect(Math.hypot(rows.a[0], rows.b[0])).toBeCloseTo(1 / line.r_true, 9);
      expect(Math.cos(Math.atan2(rows.b[0], rows.a[0]) - line.alpha_true_deg * DEG)).toBeCloseTo(1, 12);
      expect(chi).toBeLessThan(1e-6);
    }
  });

  test('the precision floor: square to a wall, no fit is surer than the beams allow', () => {
    for (const floor of (reference as Reference).precision_floor) {
      const bearing: number[] = [];
      const half = Math.atan2(floor.L / 2, floor.D);
      const count = Math.floor(half / (floor.step_deg * DEG));
      for (let i = -count; i <= count; i++) bearing.push(i * floor.step_deg * DEG);
      expect(bearing.length).toBe(floor.N);
      const range = bearing.map((t) => floor.D / Math.cos(t));
      const out = fitted(
        bearing,
        range,
        range.map(() => 1),
        floor.sigma_m,
      );
      expect((Math.sqrt(out.varRange[0]) * 1e3) / floor.sigma_r_mm).toBeCloseTo(1, 6);
      expect(Math.sqrt(out.varBearing[0]) / DEG / floor.sigma_alpha_deg).toBeCloseTo(1, 6);
      const { rows } = beamFit(bearing, range, floor.sigma_m);
      expect((Math.sqrt(rows.distanceVar(0)) * 1e3) / floor.sigma_r_mm_w).toBeCloseTo(1, 4);
      expect(Math.sqrt(rows.normalVar(0)) / DEG / floor.sigma_alpha_deg_w).toBeCloseTo(1, 4);
    }
  });
});

describe.skipIf(!hasNumpy())('against numpy', () => {
  test('the beams regression is numpy least squares of inverse ranges, and its covariance theirs', () => {
    const random = seededRandom(5);
    const bearing = Array.from({ length: 60 }, (_, i) => -0.6 + 0.02 * i);
    const range = bearing.map((t) => 2.5 / Math.cos(t - 0.3) + 0.02 * (random() + random() - 1));
    const answer = runPython(
      `import numpy as np
t=np.array(d["bearing"]); r=np.array(d["range"]); s=0.008/r**2
A=np.stack([np.cos(t)/s,np.sin(t)/s],1); p=np.linalg.lstsq(A,1/r/s,rcond=None)[0]; C=np.linalg.inv(A.T@A)
print(json.dumps([*p,C[0,0],C[0,1],C[1,1],float(np.sum((A@p-1/r/s)**2))]))`,
      { bearing, range },
    ) as number[];
    const { rows, chi } = beamFit(bearing, range, 0.008);
    expect([rows.a[0], rows.b[0]]).toEqual([expect.closeTo(answer[0], 9), expect.closeTo(answer[1], 9)]);
    expect(rows.vaa[0] / answer[2]).toBeCloseTo(1, 7);
    expect(rows.vab[0] / answer[3]).toBeCloseTo(1, 7);
    expect(rows.vbb[0] / answer[4]).toBeCloseTo(1, 7);
    expect(chi).toBeCloseTo(answer[5], 5);
  });

  test('total least squares is numpy eigenvectors', () => {
    const random = seededRandom(7);
    const x = Float64Array.from({ length: 40 }, (_, i) => 1 + 0.05 * i + 0.03 * random());
    const y = Float64Array.from(x, (v) => 3 - 0.7 * v + 0.03 * random());
    const w = Float64Array.from(x, () => 0.5 + random());
    const out = table();
    fitLine(x, y, w, new Float64Array(40).fill(1e-4), 0, 40, out, 0);
    const [cos, sin, r] = runPython(
      `import numpy as np
w=np.array(d["w"]); P=np.stack([d["x"],d["y"]],1); m=(w[:,None]*P).sum(0)/w.sum(); Q=P-m
e,v=np.linalg.eigh((w[:,None]*Q).T@Q); n=v[:,0]; n=n if n@m>0 else -n; print(json.dumps([*n,float(n@m)]))`,
      { x: [...x], y: [...y], w: [...w] },
    ) as number[];
    expect(out.bearing[0]).toBeCloseTo(Math.atan2(sin, cos), 9);
    expect(out.range[0]).toBeCloseTo(r, 9);
  });
});

describe('degenerate and moved', () => {
  test('two points: their line, no residual', () => {
    const out = fitted([0, 0.1], [2, 2], [1, 1], 0.01);
    expect(out.rms[0]).toBeCloseTo(0, 7);
    expect(out.bearing[0]).toBeCloseTo(0.05, 9);
    expect(out.range[0]).toBeCloseTo(2 * Math.cos(0.05), 9);
  });

  test('a span shorter than two or outside the columns is refused', () => {
    const column = new Float64Array(3).fill(1);
    for (const [first, last] of [
      [0, 1],
      [-1, 2],
      [0, 4],
      [NaN, 2],
    ])
      expect(() => fitLine(column, column, column, column, first, last, table(), 0)).toThrow(RangeError);
  });

  test('a turn turns the bearing, a mirror mirrors it, the covariance stays', () => {
    const bearing = [0.1, 0.2, 0.3, 0.4, 0.5];
    const range = [1.02, 1.0, 1.01, 1.03, 1.06];
    const weight = [1, 2, 1, 3, 1];
    const plain = fitted(bearing, range, weight, 0.01);
    const turned = fitted(
      bearing.map((t) => t + 1),
      range,
      weight,
      0.01,
    );
    const mirrored = fitted(
      bearing.map((t) => -t),
      range,
      weight,
      0.01,
    );
    expect(turned.bearing[0]).toBeCloseTo(plain.bearing[0] + 1, 9);
    expect(mirrored.bearing[0]).toBeCloseTo(-plain.bearing[0], 9);
    for (const other of [turned, mirrored]) {
      expect(other.range[0]).toBeCloseTo(plain.range[0], 9);
      expect(other.varBearing[0] / plain.varBearing[0]).toBeCloseTo(1, 9);
      expect(other.varRange[0] / plain.varRange[0]).toBeCloseTo(1, 9);
    }
    expect(mirrored.covRangeBearing[0] / plain.covRangeBearing[0]).toBeCloseTo(-1, 7);
  });
});
