import type { Corner } from '../../typescript/src/towards.js';

/** @returns m, shortest distance from the outline to the point; 0 inside. */
export function distanceFrom(outline: readonly Corner[], px: number, py: number): number {
  let least = Infinity;
  let isInside = false;
  for (let i = 0; i < outline.length; i++) {
    const a = outline[i];
    const b = outline[(i + 1) % outline.length];
    const ex = b.x - a.x;
    const ey = b.y - a.y;
    const along = Math.min(1, Math.max(0, ((px - a.x) * ex + (py - a.y) * ey) / (ex * ex + ey * ey)));
    least = Math.min(least, Math.hypot(px - a.x - along * ex, py - a.y - along * ey));
    if (a.y > py !== b.y > py && px < a.x + ((py - a.y) * ex) / ey) isInside = !isInside;
  }
  return isInside ? 0 : least;
}

/** @returns m, how far from the origin along `bearing` the outline is `gap` away; 0 gap: where the ray leaves the outline. */
export function radiusAt(outline: readonly Corner[], bearing: number, gap: number): number {
  const c = Math.cos(bearing);
  const s = Math.sin(bearing);
  let low = 0;
  let high = gap + Math.max(...outline.map(({ x, y }) => Math.hypot(x, y)));
  for (let i = 0; i < 20; i++) {
    const middle = (low + high) / 2;
    const distance = distanceFrom(outline, middle * c, middle * s);
    if (distance < gap || distance === 0) low = middle;
    else high = middle;
  }
  return low;
}
