import type { Point } from '../../typescript/src/client.js';

/** Where something stands and looks: m, m, rad. */
export interface Pose {
  x: number;
  y: number;
  heading: number;
}

/** @returns the angle in [-π, π). @param angle rad. */
export function wrapAngle(angle: number): number {
  const turns = (angle + Math.PI) / (2 * Math.PI);
  return angle - Math.floor(turns) * 2 * Math.PI;
}

/** Writes a point of the rover's axes, as the pose stands in the world, into `out`. */
export function toWorld(pose: Pose, x: number, y: number, out: { x: number; y: number }): void {
  const c = Math.cos(pose.heading);
  const s = Math.sin(pose.heading);
  out.x = pose.x + x * c - y * s;
  out.y = pose.y + x * s + y * c;
}

/** @returns m, shortest distance from the outline to the point; 0 inside. */
function distanceFrom(outline: readonly Point[], x: number, y: number): number {
  let least = Infinity;
  let isInside = false;
  for (let i = 0; i < outline.length; i++) {
    const a = outline[i];
    const b = outline[(i + 1) % outline.length];
    const ex = b.xM - a.xM;
    const ey = b.yM - a.yM;
    const along = Math.min(1, Math.max(0, ((x - a.xM) * ex + (y - a.yM) * ey) / (ex * ex + ey * ey)));
    const dx = x - a.xM - along * ex;
    const dy = y - a.yM - along * ey;
    least = Math.min(least, dx * dx + dy * dy);
    if (a.yM > y !== b.yM > y && x < a.xM + ((y - a.yM) * ex) / ey) isInside = !isInside;
  }
  return isInside ? 0 : Math.sqrt(least);
}

/**
 * @param bearing rad, rover axes. @param gap m.
 * @returns m, how far from the origin along the bearing the outline is `gap` away; with 0: where the ray leaves it.
 */
export function radiusAt(outline: readonly Point[], bearing: number, gap: number): number {
  const c = Math.cos(bearing);
  const s = Math.sin(bearing);
  let low = 0;
  let high = gap;
  for (let i = 0; i < outline.length; i++) high = Math.max(high, gap + Math.hypot(outline[i].xM, outline[i].yM));
  for (let i = 0; i < 14; i++) {
    const middle = (low + high) / 2;
    const distance = distanceFrom(outline, middle * c, middle * s);
    if (distance < gap || distance === 0) low = middle;
    else high = middle;
  }
  return low;
}

/** @returns m, how far ahead of its origin the outline reaches. */
export function frontOf(outline: readonly Point[]): number {
  let front = 0;
  for (const { xM } of outline) front = Math.max(front, xM);
  return front;
}

/** @returns m, from the outline to a point of the outline's own axes; and writes the outline's nearest point into `out`. */
export function nearestOn(outline: readonly Point[], x: number, y: number, out: { x: number; y: number }): number {
  let least = Infinity;
  for (let i = 0; i < outline.length; i++) {
    const a = outline[i];
    const b = outline[(i + 1) % outline.length];
    const ex = b.xM - a.xM;
    const ey = b.yM - a.yM;
    const along = Math.min(1, Math.max(0, ((x - a.xM) * ex + (y - a.yM) * ey) / (ex * ex + ey * ey)));
    const px = a.xM + along * ex;
    const py = a.yM + along * ey;
    const distance = Math.hypot(x - px, y - py);
    if (distance >= least) continue;
    least = distance;
    out.x = px;
    out.y = py;
  }
  return least;
}
