import type { Corners } from '../../geometry/outline.js';

export interface Approach {
  /** m, least distance to the outline; 0 where it is reached. */
  readonly distance: number;
  /** s from now until then. */
  readonly in: number;
}

/**
 * When and how near a point that moves straight comes to a polygon.
 * @param x, y m, the point now, rover axes. @param vx, vy m/s, its velocity as the rover sees it.
 * @param horizon s, how far ahead is looked.
 * @source distance of two straight segments, least over the polygon's edges: Ericson, Real-Time Collision Detection, 2005, 5.1.9.
 */
export function closestApproach(
  outline: Corners,
  x: number,
  y: number,
  vx: number,
  vy: number,
  horizon: number,
): Approach {
  if (isInside(outline, x, y)) return { distance: 0, in: 0 };
  let least = Infinity;
  let when = 0;
  const n = outline.length;
  for (let k = 0; k < n; k++) {
    const [ax, ay] = outline[k];
    const [bx, by] = outline[(k + 1) % n];
    const hit = nearest(x, y, vx * horizon, vy * horizon, ax, ay, bx - ax, by - ay);
    if (hit.distance < least - 1e-12 || (hit.distance < least + 1e-12 && hit.share * horizon < when)) {
      least = hit.distance;
      when = hit.share * horizon;
    }
  }
  return { distance: least, in: when };
}

/** Nearest points of the segments p + s d and q + t e, s and t in [0, 1]. */
function nearest(
  px: number,
  py: number,
  dx: number,
  dy: number,
  qx: number,
  qy: number,
  ex: number,
  ey: number,
): { distance: number; share: number } {
  const rx = px - qx;
  const ry = py - qy;
  const dd = dx * dx + dy * dy;
  const ee = ex * ex + ey * ey;
  const de = dx * ex + dy * ey;
  const rd = rx * dx + ry * dy;
  const re = rx * ex + ry * ey;
  const det = dd * ee - de * de;
  let s = det > 1e-12 ? clamp((de * re - ee * rd) / det) : 0;
  const t = ee > 0 ? clamp((re + s * de) / ee) : 0;
  s = dd > 1e-12 ? clamp((t * de - rd) / dd) : 0;
  return { distance: Math.hypot(rx + s * dx - t * ex, ry + s * dy - t * ey), share: s };
}

function clamp(value: number): number {
  return Math.min(1, Math.max(0, value));
}

function isInside(outline: Corners, x: number, y: number): boolean {
  let inside = false;
  for (let i = 0, j = outline.length - 1; i < outline.length; j = i++) {
    const [ax, ay] = outline[i];
    const [bx, by] = outline[j];
    if (ay > y !== by > y && x < ((bx - ax) * (y - ay)) / (by - ay) + ax) inside = !inside;
  }
  return inside;
}
