import { TAU, wrapAngle } from '../../src/core/angles.js';
import { SAMPLE_KIND } from '../../src/sweep/echoBatch.js';
import type { Sweep } from '../../src/sweep/sweep.js';

/** A wall from (x1, y1) to (x2, y2), m. */
export type Wall = readonly [number, number, number, number];
export interface Disc {
  readonly x: number;
  readonly y: number;
  readonly r: number;
}
export interface Scene {
  readonly walls: readonly Wall[];
  /** Round things at a time, s. */
  discs?(t: number): readonly Disc[];
  /** Where the sensor is at a time: x, y (m), heading (rad). */
  pose(t: number): readonly [number, number, number];
  /** m, one standard deviation of a range. */
  readonly noise: number;
  readonly samples: number;
  readonly period: number;
  readonly seed: number;
  /** -1: the beam runs clockwise. */
  readonly sense?: 1 | -1;
  /** m, echoes beyond are lost. */
  readonly far?: number;
}

/** Seeded uniform numbers in [0, 1): mulberry32 (public domain, from memory). */
function makeRandom(seed: number): () => number {
  let a = seed >>> 0;
  return () => {
    a = (a + 0x6d2b79f5) >>> 0;
    let t = Math.imul(a ^ (a >>> 15), a | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

/** Sweeps of a scene by exact ray casting, each sample at its own time and pose. */
export function* castSweeps(scene: Scene, sweeps: number): Generator<Sweep> {
  const random = makeRandom(scene.seed);
  const { samples: n, period } = scene;
  const sense = scene.sense ?? 1;
  for (let k = 0; k < sweeps; k++) {
    const time = new Float64Array(n);
    const bearing = new Float32Array(n);
    const range = new Float32Array(n);
    const kind = new Uint8Array(n);
    for (let i = 0; i < n; i++) {
      const t = (k + i / n) * period;
      const [x, y, heading] = scene.pose(t);
      const b = (sense * i * TAU) / n;
      const gauss = Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(TAU * random());
      const r = cast(scene.walls, scene.discs?.(t) ?? [], x, y, heading + b) + scene.noise * gauss;
      time[i] = t;
      bearing[i] = wrapAngle(b);
      const isEcho = r < (scene.far ?? 12);
      range[i] = isEcho ? r : Infinity;
      kind[i] = isEcho ? SAMPLE_KIND.echo : SAMPLE_KIND.empty;
    }
    yield {
      number: k + 1,
      count: n,
      firstTime: k * period,
      period,
      time,
      bearing,
      range,
      strength: new Uint16Array(n),
      kind,
      sense,
    };
  }
}

function cast(walls: readonly Wall[], discs: readonly Disc[], x: number, y: number, direction: number): number {
  const c = Math.cos(direction);
  const s = Math.sin(direction);
  let least = Infinity;
  for (const [x1, y1, x2, y2] of walls) {
    const ex = x2 - x1;
    const ey = y2 - y1;
    const det = c * ey - s * ex;
    if (Math.abs(det) < 1e-12) continue;
    const r = ((x1 - x) * ey - (y1 - y) * ex) / det;
    const f = ((x1 - x) * s - (y1 - y) * c) / det;
    if (r > 0 && f >= 0 && f <= 1 && r < least) least = r;
  }
  for (const { x: dx, y: dy, r } of discs) {
    const along = (dx - x) * c + (dy - y) * s;
    const off = (dx - x) * s - (dy - y) * c;
    const half = r * r - off * off;
    if (half > 0 && along > 0) least = Math.min(least, along - Math.sqrt(half));
  }
  return least;
}

/** A room of 7 x 5 m with a box and a slanting shelf; the sensor starts near its middle. */
export const ROOM: readonly Wall[] = [
  [-3, -2, 4, -2],
  [4, -2, 4, 3],
  [4, 3, -3, 3],
  [-3, 3, -3, -2],
  [2, 1.2, 2.8, 1.2],
  [2.8, 1.2, 2.8, 2],
  [2.8, 2, 2, 2],
  [2, 2, 2, 1.2],
  [-2.9, -1, -2, -1.9],
];
