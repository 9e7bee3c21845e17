type Point = readonly [number, number];

const TOUCH = 1e-9; // m: nearer counts as touching

/**
 * What is wrong with an outline: two corners at one place, edges that cross, touch or run back on themselves, or the
 * origin not strictly inside (bearings and sectors are counted from it).
 * @param corners m, at least three, in order; either way round.
 * @returns what it must be, for people; undefined: it is sound.
 * @cost O(corners²).
 */
export function flawOf(corners: readonly Point[]): string | undefined {
  const n = corners.length;
  const edge = (i: number): [Point, Point] => [corners[i % n], corners[(i + 1) % n]];
  for (let i = 0; i < n; i++) {
    const [a, b] = edge(i);
    if (Math.hypot(b[0] - a[0], b[1] - a[1]) <= TOUCH) return `corners ${i} and ${(i + 1) % n} must differ`;
    if (distance([0, 0], a, b) <= TOUCH) return "the rover's origin [0, 0] must lie inside, not on the edge";
    const [, c] = edge(i + 1);
    if (distance(c, a, b) <= TOUCH || distance(a, b, c) <= TOUCH)
      return `the edge after corner ${(i + 1) % n} must not run back on the one before`;
    for (let j = i + 2; j < n; j++) {
      if (j === i + n - 1) continue; // the last edge is a neighbour of the first
      if (meet(edge(i), edge(j))) return `edges must not cross or touch: the ones after corners ${i} and ${j} do`;
    }
  }
  if (Math.abs(winding(corners)) < Math.PI) return "the rover's origin [0, 0] must lie inside";
  return undefined;
}

/** Turn of the view from the origin along the whole outline: ±2π where the origin is inside, 0 outside. */
function winding(corners: readonly Point[]): number {
  let turn = 0;
  for (const [i, [bx, by]] of corners.entries()) {
    const [ax, ay] = corners.at(i - 1) ?? [bx, by];
    turn += Math.atan2(ax * by - ay * bx, ax * bx + ay * by);
  }
  return turn;
}

function meet([a, b]: readonly [Point, Point], [c, d]: readonly [Point, Point]): boolean {
  if (Math.min(distance(a, c, d), distance(b, c, d), distance(c, a, b), distance(d, a, b)) <= TOUCH) return true;
  return side(a, b, c) !== side(a, b, d) && side(c, d, a) !== side(c, d, b);
}

function side([ax, ay]: Point, [bx, by]: Point, [cx, cy]: Point): number {
  return Math.sign((bx - ax) * (cy - ay) - (by - ay) * (cx - ax));
}

function distance([px, py]: Point, [ax, ay]: Point, [bx, by]: Point): number {
  const ex = bx - ax;
  const ey = by - ay;
  const along = Math.min(1, Math.max(0, ((px - ax) * ex + (py - ay) * ey) / (ex * ex + ey * ey)));
  return Math.hypot(px - ax - along * ex, py - ay - along * ey);
}
