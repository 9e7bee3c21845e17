/** Corners of a polygon, m, rover axes: at least three, no two edges crossing. */
export type Corners = ReadonlyArray<readonly [number, number]>;

/** A simple polygon, such as the rover's outline. Corners may run either way. All lengths m. */
export class Outline {
  readonly corners: Corners;
  readonly isConvex: boolean;
  /** m, distance of the farthest corner from the origin. */
  readonly radius: number;
  readonly #x: Float64Array;
  readonly #y: Float64Array;

  /** @throws {RangeError} fewer than three corners or a number that is not finite. */
  constructor(corners: Corners) {
    if (corners.length < 3 || !corners.every(([x, y]) => Number.isFinite(x) && Number.isFinite(y))) {
      throw new RangeError(`outline of ${corners.length} corners`);
    }
    this.corners = corners;
    this.#x = Float64Array.from([...corners, corners[0]], ([x]) => x);
    this.#y = Float64Array.from([...corners, corners[0]], ([, y]) => y);
    this.isConvex = isConvex(this.#x, this.#y);
    this.radius = Math.max(...corners.map(([x, y]) => Math.hypot(x, y)));
  }

  /** @returns whether the point lies inside (even-odd rule: crossings of a ray towards +x). */
  contains(px: number, py: number): boolean {
    const x = this.#x;
    const y = this.#y;
    let inside = false;
    for (let i = 0; i + 1 < x.length; i++) {
      if (y[i] > py !== y[i + 1] > py && px < x[i] + ((py - y[i]) * (x[i + 1] - x[i])) / (y[i + 1] - y[i]))
        inside = !inside;
    }
    return inside;
  }

  /** @returns m, shortest distance from the polygon to the point; 0 inside. @cost one pass over the edges, no allocation. */
  distance(px: number, py: number): number {
    const x = this.#x;
    const y = this.#y;
    let least = Infinity;
    let inside = false;
    for (let i = 0; i + 1 < x.length; i++) {
      const ex = x[i + 1] - x[i];
      const ey = y[i + 1] - y[i];
      const qx = px - x[i];
      const qy = py - y[i];
      if (y[i] > py !== y[i + 1] > py && px < x[i] + (qy * ex) / ey) inside = !inside;
      const along = Math.min(1, Math.max(0, (qx * ex + qy * ey) / (ex * ex + ey * ey)));
      const dx = qx - along * ex;
      const dy = qy - along * ey;
      least = Math.min(least, dx * dx + dy * dy);
    }
    return inside ? 0 : Math.sqrt(least);
  }

  /** @returns m, shortest distance from the polygon to the segment (x1, y1)-(x2, y2); 0 where they touch. */
  distanceToSegment(x1: number, y1: number, x2: number, y2: number): number {
    let least = Math.min(this.distance(x1, y1), this.distance(x2, y2));
    for (let i = 0; i + 1 < this.#x.length && least > 0; i++) {
      if (crosses(x1, y1, x2, y2, this.#x[i], this.#y[i], this.#x[i + 1], this.#y[i + 1])) return 0;
      least = Math.min(least, pointToSegment(this.#x[i], this.#y[i], x1, y1, x2, y2));
    }
    return least;
  }

  /** @returns m, along the ray from the origin at `bearing` (rad) to where it leaves the polygon for good; 0 where it never meets it. */
  exit(bearing: number): number {
    const c = Math.cos(bearing);
    const s = Math.sin(bearing);
    let far = 0;
    for (let i = 0; i + 1 < this.#x.length; i++) {
      const ex = this.#x[i + 1] - this.#x[i];
      const ey = this.#y[i + 1] - this.#y[i];
      const cross = c * ey - s * ex;
      if (Math.abs(cross) < 1e-12) continue;
      const along = (this.#x[i] * ey - this.#y[i] * ex) / cross;
      const part = (this.#x[i] * s - this.#y[i] * c) / cross;
      if (part >= -1e-9 && part <= 1 + 1e-9) far = Math.max(far, along);
    }
    return far;
  }

  /** @returns m, x of the polygon's foremost point at lateral position `y`; NaN where the polygon has none there. */
  front(y: number): number {
    let front = NaN;
    for (let i = 0; i + 1 < this.#x.length; i++) {
      const ya = this.#y[i];
      const yb = this.#y[i + 1];
      if (y < Math.min(ya, yb) || y > Math.max(ya, yb)) continue;
      const here =
        ya === yb
          ? Math.max(this.#x[i], this.#x[i + 1])
          : this.#x[i] + ((y - ya) / (yb - ya)) * (this.#x[i + 1] - this.#x[i]);
      front = Number.isNaN(front) ? here : Math.max(front, here);
    }
    return front;
  }
}

function isConvex(x: Float64Array, y: Float64Array): boolean {
  const n = x.length - 1;
  let sign = 0;
  for (let i = 0; i < n; i++) {
    const j = (i + 1) % n;
    const k = (i + 2) % n;
    const turn = (x[j] - x[i]) * (y[k] - y[j]) - (y[j] - y[i]) * (x[k] - x[j]);
    if (turn * sign < 0) return false;
    if (turn !== 0) sign = turn;
  }
  return true;
}

function pointToSegment(px: number, py: number, x1: number, y1: number, x2: number, y2: number): number {
  const ex = x2 - x1;
  const ey = y2 - y1;
  const length2 = ex * ex + ey * ey;
  const along = length2 === 0 ? 0 : Math.min(1, Math.max(0, ((px - x1) * ex + (py - y1) * ey) / length2));
  return Math.hypot(px - x1 - along * ex, py - y1 - along * ey);
}

function crosses(
  ax: number,
  ay: number,
  bx: number,
  by: number,
  cx: number,
  cy: number,
  dx: number,
  dy: number,
): boolean {
  const side = (px: number, py: number, qx: number, qy: number, rx: number, ry: number): number =>
    Math.sign((qx - px) * (ry - py) - (qy - py) * (rx - px));
  return (
    side(ax, ay, bx, by, cx, cy) !== side(ax, ay, bx, by, dx, dy) &&
    side(cx, cy, dx, dy, ax, ay) !== side(cx, cy, dx, dy, bx, by)
  );
}
