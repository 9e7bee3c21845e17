// Smear of a sweep: translation v τ / 2 and rotation ω τ d / 2 from the middle to either end, twice that in full. Formula: Deschênes,
// Baril, Kubelka, Giguère & Pomerleau, CRV 2021, arXiv 2105.01215 (read second-hand); the values are its closed form.
import { existsSync, readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { deskew } from '../../../../src/perception/motion/deskew.js';
import { SweepPoints } from '../../../../src/perception/motion/sweepPoints.js';
import { castSweeps, ROOM } from '../../../support/rooms.js';

const sensor = { x: 0, y: 0, reach: [0.15, 12], noise: { constant: 0.005, growth: 0 } } as const;
const SHARED = '../shared/reference/deskew.json';

/** How far deskewing moves an echo taken half a period from the middle. */
function moved(vx: number, turn: number, period: number, range: number): number {
  const points = new SweepPoints();
  const count = 2;
  points.load(
    {
      number: 1,
      count,
      firstTime: 0,
      period,
      time: Float64Array.of(0, period),
      bearing: new Float32Array(count),
      range: new Float32Array(count).fill(range),
      strength: new Uint16Array(count),
      kind: new Uint8Array(count),
      sense: 1,
    },
    sensor,
  );
  deskew(points, sensor, { vx, vy: 0, turn, ax: 0, ay: 0, turnRamp: 0 });
  return Math.hypot(points.x[0] - range, points.y[0]);
}

describe('deskew', () => {
  test.each([
    { v: 0.2, tau: 0.1, mid: 0.01 },
    { v: 0.5, tau: 0.1, mid: 0.025 },
  ])('driving at $v m/s moves the ends by v τ / 2', ({ v, tau, mid }) => {
    expect(moved(v, 0, tau, 3)).toBeCloseTo(mid, 6);
  });

  test('the shared table of rotations and translations', (context) => {
    if (!existsSync(SHARED)) {
      console.log(`skipped: ${SHARED} is not here`);
      context.skip();
      return;
    }
    for (const row of JSON.parse(readFileSync(SHARED, 'utf8')).values) {
      if (row.omega_deg_s !== undefined) {
        // the table's arc length against a chord: they differ by a cube of the half angle
        const half = (row.omega_deg_s * Math.PI * row.tau) / 360;
        expect(moved(0, (row.omega_deg_s * Math.PI) / 180, row.tau, row.d)).toBeCloseTo(
          2 * row.d * Math.sin(half / 2),
          5,
        );
        expect(Math.abs(2 * row.d * Math.sin(half / 2) - row.mid_m)).toBeLessThan((row.d * half ** 3) / 20);
      } else expect(moved(row.v, 0, row.tau, 3)).toBeCloseTo(row.mid_m, 6);
    }
  });

  test('a sweep taken while driving and turning is freed of it: every echo lies on the walls as they stand at the middle', () => {
    const v = 0.8;
    const w = 1.2;
    const pose = (t: number): readonly [number, number, number] => [
      (v / w) * Math.sin(w * t),
      (v / w) * (1 - Math.cos(w * t)),
      w * t,
    ];
    const [sweep] = castSweeps({ walls: ROOM.slice(0, 4), pose, noise: 0, samples: 400, period: 0.1, seed: 1 }, 1);
    const points = new SweepPoints();
    points.load(sweep, sensor);
    deskew(points, sensor, { vx: v, vy: 0, turn: w, ax: 0, ay: 0, turnRamp: 0 });
    const [x0, y0, h0] = pose(0.05);
    for (let i = 0; i < points.count; i++) {
      const x = x0 + Math.cos(h0) * points.x[i] - Math.sin(h0) * points.y[i];
      const y = y0 + Math.sin(h0) * points.x[i] + Math.cos(h0) * points.y[i];
      expect(Math.min(Math.abs(x - 4), Math.abs(x + 3), Math.abs(y - 3), Math.abs(y + 2))).toBeLessThan(1e-4);
    }
  });
});
