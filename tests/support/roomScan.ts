import type { ShapeFrame } from '../../src/perception/shapes/frame.js';

export type Wall = readonly [number, number, number, number];
export type Disc = readonly [number, number, number];

/** A scene by its walls (x1, y1, x2, y2) and round things (x, y, radius), m, sensor at the origin. */
export interface Scene {
  readonly walls: readonly Wall[];
  readonly discs?: readonly Disc[];
}

export interface ScanOptions {
  readonly samples: number;
  /** rad, bearing of the first sample. */
  readonly start?: number;
  readonly sense?: 1 | -1;
  /** m, added to each range: by its sample's place counted counter-clockwise from bearing 0, so that it moves with the scene. */
  readonly noise?: (range: number, place: number) => number;
  /** m, what ranges are rounded to. */
  readonly quantum?: number;
  /** m, no echo beyond. */
  readonly reach?: number;
}

/** Exact ranges by ray casting: an independent, slow reading of what a spinning range finder sees. */
export function scan(scene: Scene, options: ScanOptions): ShapeFrame {
  const { samples, start = 0, sense = 1, noise, quantum, reach = 12 } = options;
  const bearing = new Float32Array(samples);
  const range = new Float32Array(samples).fill(Infinity);
  const kind = new Uint8Array(samples).fill(1);
  const x = new Float32Array(samples);
  const y = new Float32Array(samples);
  const step = (2 * Math.PI) / samples;
  for (let i = 0; i < samples; i++) {
    const t = start + sense * i * step;
    bearing[i] = Math.atan2(Math.sin(t), Math.cos(t));
    let r = cast(scene, Math.cos(t), Math.sin(t));
    if (!(r < reach)) continue;
    if (noise) r += noise(r, ((Math.round(t / step) % samples) + samples) % samples);
    if (quantum) r = Math.round(r / quantum) * quantum;
    range[i] = r;
    kind[i] = 0;
    x[i] = r * Math.cos(t);
    y[i] = r * Math.sin(t);
  }
  return { count: samples, bearing, range, kind, x, y, sense };
}

/** The scene turned by `turn` about the sensor, or mirrored in the x axis. */
export function turned(scene: Scene, turn: number): Scene {
  const c = Math.cos(turn);
  const s = Math.sin(turn);
  return {
    walls: scene.walls.map(([a, b, d, e]) => [c * a - s * b, s * a + c * b, c * d - s * e, s * d + c * e]),
    discs: (scene.discs ?? []).map(([a, b, r]) => [c * a - s * b, s * a + c * b, r]),
  };
}

export function mirrored(scene: Scene): Scene {
  return {
    walls: scene.walls.map(([a, b, d, e]) => [a, -b, d, -e]),
    discs: (scene.discs ?? []).map(([a, b, r]) => [a, -b, r]),
  };
}

/** The four walls of a room and, optionally, of a box in it. */
export function box(x1: number, y1: number, x2: number, y2: number): Wall[] {
  return [
    [x1, y1, x2, y1],
    [x2, y1, x2, y2],
    [x2, y2, x1, y2],
    [x1, y2, x1, y1],
  ];
}

function cast(scene: Scene, dx: number, dy: number): number {
  let best = Infinity;
  for (const [x1, y1, x2, y2] of scene.walls) {
    const ex = x2 - x1;
    const ey = y2 - y1;
    const det = dx * ey - dy * ex;
    if (Math.abs(det) < 1e-12) continue;
    const r = (x1 * ey - y1 * ex) / det;
    const u = (x1 * dy - y1 * dx) / det;
    if (r > 0 && u >= 0 && u <= 1 && r < best) best = r;
  }
  for (const [cx, cy, radius] of scene.discs ?? []) {
    const along = cx * dx + cy * dy;
    const inside = radius * radius - (cx * cx + cy * cy - along * along);
    if (inside < 0) continue;
    const r = along - Math.sqrt(inside);
    if (r > 0 && r < best) best = r;
  }
  return best;
}
