// reference/breakpoints.json: the formula of Borges & Aldon 2004 as cited second-hand, values computed there independently.
// reference/line-fit.json: crossings of lines, computed there.
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { breakDistance } from '../../../src/geometry/breakDistance.js';
import { crossing } from '../../../src/geometry/crossing.js';
import { sharedPath } from '../../support/sharedData.js';

const DEG = Math.PI / 180;
const distance = (r: number, turn: number, lambda: number, sigma: number): number =>
  breakDistance(r, Math.sin(turn * DEG), Math.cos(turn * DEG), Math.sin(lambda * DEG), Math.cos(lambda * DEG), sigma);

interface Breakpoints {
  adaptive: {
    values: Array<{ r_prev_m: number; dphi_deg: number; lambda_deg: number; sigma_r_m: number; D_max_m: number }>;
    decisions: Array<{
      r_prev: number;
      r_cur: number;
      dphi_deg: number;
      lambda_deg: number;
      sigma_r: number;
      breakpoint: boolean;
    }>;
    geometric_check: Array<{ r: number; st: number; lam: number; gap: number }>;
  };
}

const file = sharedPath('reference/breakpoints.json');

describe.skipIf(file === undefined)('breakpoints.json', () => {
  const reference = file === undefined ? undefined : (JSON.parse(readFileSync(file, 'utf8')) as Breakpoints).adaptive;

  test('every distance', () => {
    const values = reference?.values ?? [];
    expect(values.length).toBeGreaterThan(10);
    for (const v of values)
      expect(distance(v.r_prev_m, v.dphi_deg, v.lambda_deg, v.sigma_r_m) / v.D_max_m).toBeCloseTo(1, 7);
    for (const g of reference?.geometric_check ?? []) expect(distance(g.r, g.st, g.lam, 0) / g.gap).toBeCloseTo(1, 7);
  });

  test('every decision', () => {
    for (const d of reference?.decisions ?? []) {
      const turn = d.dphi_deg * DEG;
      const step = Math.hypot(d.r_cur * Math.cos(turn) - d.r_prev, d.r_cur * Math.sin(turn));
      expect(step > distance(d.r_prev, d.dphi_deg, d.lambda_deg, d.sigma_r)).toBe(d.breakpoint);
    }
  });
});

test('a turn not smaller than lambda breaks nothing', () => {
  expect(distance(1, 20, 18, 0.01)).toBe(Infinity);
});

const lines = sharedPath('reference/line-fit.json');

test.skipIf(lines === undefined)('crossings of line-fit.json', () => {
  const { corner_intersections: corners } = JSON.parse(readFileSync(lines as string, 'utf8')) as {
    corner_intersections: Array<{ line1: [number, number]; line2: [number, number]; x: number; y: number }>;
  };
  expect(corners.length).toBeGreaterThan(3);
  for (const { line1, line2, x, y } of corners) {
    const [a, b] = [line1, line2].map(([t, r]) => [Math.cos(t * DEG) / r, Math.sin(t * DEG) / r]);
    const at = { x: 0, y: 0 };
    expect(crossing(a[0], a[1], b[0], b[1], 0.5, at)).toBe(true);
    expect(at.x).toBeCloseTo(x, 7);
    expect(at.y).toBeCloseTo(y, 7);
  }
});

test('parallel lines, and lines that turn by less than asked, cross nowhere', () => {
  const at = { x: 0, y: 0 };
  expect(crossing(1, 0, 0.5, 0, 0.1, at)).toBe(false);
  expect(crossing(1, 0, Math.cos(0.4), Math.sin(0.4), Math.sin(0.5), at)).toBe(false);
  expect(crossing(1, 0, Math.cos(0.6), Math.sin(0.6), Math.sin(0.5), at)).toBe(true);
});
