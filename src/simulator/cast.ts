/** What a beam can hit, in one plane, world axes, m. */
export interface Scene {
  /** [4 n]: x1, y1, x2, y2 of each straight face. */
  readonly faces: Float64Array;
  /** [3 m]: x, y, radius of each round thing. */
  readonly rounds: Float64Array;
}

/**
 * @param x, y m, where the beam starts. @param bearing rad, world axes.
 * @returns m, to the nearest face or round; Infinity where there is none. From inside a round: to its far side.
 * @source a ray o + t u meets the line through a along e where cross(a - o, e) / cross(u, e) = t, and the circle about c
 *   where t² - 2 t u·(c - o) + |c - o|² - r² = 0.
 * @cost one pass over the scene, no allocation.
 */
export function castRay(scene: Scene, x: number, y: number, bearing: number): number {
  const { faces, rounds } = scene;
  const ux = Math.cos(bearing);
  const uy = Math.sin(bearing);
  let nearest = Infinity;
  for (let i = 0; i + 3 < faces.length; i += 4) {
    const ax = faces[i] - x;
    const ay = faces[i + 1] - y;
    const ex = faces[i + 2] - faces[i];
    const ey = faces[i + 3] - faces[i + 1];
    const cross = ux * ey - uy * ex;
    if (cross === 0) continue; // along the face: its ends belong to its neighbours
    const range = (ax * ey - ay * ex) / cross;
    const along = (ax * uy - ay * ux) / cross;
    if (range >= 0 && range < nearest && along >= 0 && along <= 1) nearest = range;
  }
  for (let i = 0; i + 2 < rounds.length; i += 3) {
    const cx = rounds[i] - x;
    const cy = rounds[i + 1] - y;
    const middle = ux * cx + uy * cy;
    const under = middle * middle - (cx * cx + cy * cy) + rounds[i + 2] * rounds[i + 2];
    if (under < 0) continue;
    const half = Math.sqrt(under);
    const range = middle >= half ? middle - half : middle + half;
    if (range >= 0 && range < nearest) nearest = range;
  }
  return nearest;
}
