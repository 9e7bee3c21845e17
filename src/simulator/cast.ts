import type { Scene } from './scene.js';

/** Where a ray ends. */
export interface Hit {
  /** m, along the floor; Infinity where there is nothing. */
  range: number;
  /** Thing of the scene, NOTHING or FLOOR. */
  thing: number;
}

export const NOTHING = -1;
export const FLOOR = -2;

/**
 * The nearest thing on a ray that leads along the floor by (cos, sin) of `bearing` and rises or falls evenly.
 * @param x, y, z m, where the ray starts. @param slope rise a metre of floor: 0 for a level beam.
 * @param hit gets the answer. @param skip a thing that the ray starts on, or NOTHING.
 * @returns m along the floor; Infinity where there is nothing. From inside a round: to its far side.
 * @source a ray o + t u meets the line through a along e where cross(a - o, e) / cross(u, e) = t, and the circle about c
 *   where t² - 2 t u·(c - o) + |c - o|² - r² = 0.
 * @cost one pass over the scene, no allocation.
 */
export function castRay(
  scene: Scene,
  x: number,
  y: number,
  z: number,
  bearing: number,
  slope: number,
  hit: Hit,
  skip = NOTHING,
): number {
  const { faces, rounds, low, high } = scene;
  const ux = Math.cos(bearing);
  const uy = Math.sin(bearing);
  const count = faces.length >> 2;
  let nearest = slope < 0 ? -z / slope : Infinity;
  let thing = nearest < Infinity ? FLOOR : NOTHING;
  for (let k = 0, i = 0; k < count; k++, i += 4) {
    const ax = faces[i] - x;
    const ay = faces[i + 1] - y;
    const ex = faces[i + 2] - faces[i];
    const ey = faces[i + 3] - faces[i + 1];
    const cross = ux * ey - uy * ex;
    const over = ax * ey - ay * ex;
    if (cross === 0 || over * cross < 0) continue; // along the face (its ends belong to its neighbours), or behind
    const range = over / cross;
    if (range >= nearest || k === skip) continue;
    const along = (ax * uy - ay * ux) / cross;
    const height = z + slope * range;
    if (along < 0 || along > 1 || height < low[k] || height > high[k]) continue;
    nearest = range;
    thing = k;
  }
  for (let k = count, i = 0; i + 2 < rounds.length; k++, i += 3) {
    const cx = rounds[i] - x;
    const cy = rounds[i + 1] - y;
    const middle = ux * cx + uy * cy;
    const under = middle * middle - (cx * cx + cy * cy) + rounds[i + 2] * rounds[i + 2];
    if (under < 0 || k === skip) continue;
    const half = Math.sqrt(under);
    const range = middle >= half ? middle - half : middle + half;
    const height = z + slope * range;
    if (range < 0 || range >= nearest || height < low[k] || height > high[k]) continue;
    nearest = range;
    thing = k;
  }
  hit.range = nearest;
  hit.thing = thing;
  return nearest;
}

/** @returns cosine of the angle between a level ray and the normal of the thing it meets at `range`, 0 to 1. */
export function incidence(scene: Scene, x: number, y: number, bearing: number, hit: Readonly<Hit>): number {
  const { faces, rounds } = scene;
  const ux = Math.cos(bearing);
  const uy = Math.sin(bearing);
  const count = faces.length >> 2;
  if (hit.thing < 0) return 1;
  if (hit.thing < count) {
    const i = 4 * hit.thing;
    const ex = faces[i + 2] - faces[i];
    const ey = faces[i + 3] - faces[i + 1];
    return Math.abs(ux * ey - uy * ex) / Math.hypot(ex, ey);
  }
  const i = 3 * (hit.thing - count);
  return Math.abs((rounds[i] - x - hit.range * ux) * ux + (rounds[i + 1] - y - hit.range * uy) * uy) / rounds[i + 2];
}

/** @returns rad, where a ray goes on after a face has thrown it back as a mirror does. */
export function mirrored(scene: Scene, face: number, bearing: number): number {
  const i = 4 * face;
  const { faces } = scene;
  return 2 * Math.atan2(faces[i + 3] - faces[i + 1], faces[i + 2] - faces[i]) - bearing;
}
