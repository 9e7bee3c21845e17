import type { Point } from '../../typescript/src/client.js';

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
    least = Math.min(least, Math.hypot(x - a.xM - along * ex, y - a.yM - along * ey));
    if (a.yM > y !== b.yM > y && x < a.xM + ((y - a.yM) * ex) / ey) isInside = !isInside;
  }
  return isInside ? 0 : least;
}

/**
 * @param bearing rad, rover axes. @param gap m.
 * @returns m, how far from the origin along the bearing the outline is `gap` away; with 0: where the ray leaves it.
 */
export function radiusAt(outline: readonly Point[], bearing: number, gap: number): number {
  const c = Math.cos(bearing);
  const s = Math.sin(bearing);
  let low = 0;
  let high = gap + Math.max(...outline.map(({ xM, yM }) => Math.hypot(xM, yM)));
  for (let i = 0; i < 20; i++) {
    const middle = (low + high) / 2;
    const distance = distanceFrom(outline, middle * c, middle * s);
    if (distance < gap || distance === 0) low = middle;
    else high = middle;
  }
  return low;
}
