import { type Circle, fitCircle } from '../../geometry/fitCircle.js';
import { length } from '../../geometry/length.js';
import type { EchoOrder } from './echoOrder.js';
import type { PieceSplitter } from './pieceSplitter.js';
import type { SegmentFinder } from './segments.js';

/** A small round thing that stands free, m, rover axes. */
export interface PostShape {
  readonly x: number;
  readonly y: number;
  readonly radius: number;
  readonly radiusSd: number;
  readonly echoes: number;
}

/** A post being measured, about the sensor. */
interface PostEstimate {
  x: number;
  y: number;
  radius: number;
  radiusSd: number;
}

/** m, radius of the largest thing that is still a post: a trunk, a column. */
const RADIUS_MAX = 0.35;
/** rad, half the angle of a thing so near that its rim is no longer seen. */
const HALF_ANGLE_MAX = 0.5;
/** Standard deviations by which a neighbouring beam must look past a post's rim. */
const PAST = 4;
/** m, and by how much at least: a thing nearer to its background is no stand-alone post. */
const CLEAR_OF = 0.08;
/** Echoes from which the bow of the echoes says something about the radius. */
const BOW_FROM = 5;
/** Standard deviations of chi² up to which a circle fits. */
const FITS = 4;

/**
 * Radius of a round thing from the beams that met it. It covers more than the angle between its outermost echoes and less than
 * that between the beams that passed it; each rim lies anywhere in its gap, so the half angle has the mean of the two and
 * a standard deviation of (gap / 2) / sqrt(6) for equal gaps. From D·sin(half) = R and D = front + R: R = front·s / (1 - s).
 * @param front m, range of the nearest echo. @param inner, outer rad, least and greatest half angle.
 * @param out gets radius and radiusSd.
 * @source own derivation; the two rims independent and uniform.
 */
function radiusFromWidth(front: number, inner: number, outer: number, out: PostEstimate): void {
  const s = Math.sin((inner + outer) / 2);
  const spread = (outer - inner) / Math.sqrt(6);
  out.radius = (front * s) / (1 - s);
  out.radiusSd = (front * spread) / ((1 - s) * (1 - s));
}

/** Small round things that stand free: every beam beside them looks past. */
export class PostFinder {
  /** [segments], 1 where the segment is a post. */
  isPost = new Uint8Array(0);
  readonly #estimate: PostEstimate = { x: 0, y: 0, radius: 0, radiusSd: 0 };
  readonly #circle: Circle = { x: 0, y: 0, radius: 0, varX: 0, varY: 0, varRadius: 0, chi: 0 };

  find(
    order: EchoOrder,
    pieces: PieceSplitter,
    segments: SegmentFinder,
    sensor: readonly [number, number],
  ): PostShape[] {
    if (this.isPost.length < segments.count) this.isPost = new Uint8Array(2 * segments.count);
    const out: PostShape[] = [];
    const e = this.#estimate;
    for (let s = 0; s < segments.count; s++) {
      const first = pieces.first[segments.firstPiece[s]];
      let last = pieces.last[segments.lastPiece[s]];
      if (last <= first) last += order.count; // goes on from the last echo to the first
      this.isPost[s] = this.measure(order, first, last, e) ? 1 : 0;
      if (this.isPost[s] === 0) continue;
      out.push({
        x: e.x + sensor[0],
        y: e.y + sensor[1],
        radius: e.radius,
        radiusSd: e.radiusSd,
        echoes: last - first,
      });
    }
    return out;
  }

  /**
   * @param first, last echoes of one segment, half-open, in order, last - first >= 2; last may run past the order's end.
   * @param out filled in where the answer is true.
   */
  measure(order: EchoOrder, first: number, last: number, out: PostEstimate): boolean {
    const { x, y, count } = order;
    const n = last - first;
    if (n < 2 || n > count / 4) return false;
    const a = first;
    const b = (last - 1) % count;
    const before = first === 0 ? count - 1 : first - 1;
    const after = last % count;
    const inner = angleBetween(order, a, b) / 2;
    if (!(inner >= 0 && inner < HALF_ANGLE_MAX) || length(x[b] - x[a], y[b] - y[a]) > 2.5 * RADIUS_MAX) return false;
    if (!looksPast(order, a, before) || !looksPast(order, b, after)) return false;
    const outer = inner + (rim(order, before, a) + rim(order, b, after)) / 2;
    let front = Infinity;
    for (let k = first; k < last; k++) {
      const i = k % count;
      const r = length(x[i], y[i]);
      if (r < front) front = r;
    }
    if (front * Math.sin(inner) > RADIUS_MAX) return false;
    radiusFromWidth(front, inner, outer, out);
    if (n >= BOW_FROM && last <= count && !this.#bow(order, first, last, out)) return false;
    if (out.radius - out.radiusSd > RADIUS_MAX) return false;
    place(order, first, last, out);
    return true;
  }

  /** Sharpens the radius by the bow of the echoes; false where they do not lie on a circle that turns its back to the sensor. */
  #bow(order: EchoOrder, first: number, last: number, out: PostEstimate): boolean {
    const circle = this.#circle;
    if (!fitCircle(order.x, order.y, order.v, first, last, circle)) return true; // too straight to tell: the width stands
    const dof = last - first - 3;
    const hollow = circle.x * order.x[first] + circle.y * order.y[first] < order.x[first] ** 2 + order.y[first] ** 2;
    if (hollow) return circle.radius > RADIUS_MAX; // noise bends a short front inwards; a niche is no post
    if (circle.chi > dof + FITS * Math.sqrt(2 * dof) + 2 * FITS) return false;
    const w = 1 / (out.radiusSd * out.radiusSd);
    const c = 1 / circle.varRadius;
    if ((circle.radius - out.radius) ** 2 > 16 * (1 / w + circle.varRadius)) return false; // flat or hollow: no round thing
    out.radius = (w * out.radius + c * circle.radius) / (w + c);
    out.radiusSd = 1 / Math.sqrt(w + c);
    return true;
  }
}

/** Centre on the bisector of the echoes, as far behind each echo as a circle of that radius has it. */
function place(order: EchoOrder, first: number, last: number, out: PostEstimate): void {
  const { x, y, count } = order;
  const a = first;
  const b = (last - 1) % count;
  const ra = length(x[a], y[a]);
  const rb = length(x[b], y[b]);
  let ux = x[a] / ra + x[b] / rb;
  let uy = y[a] / ra + y[b] / rb;
  const norm = length(ux, uy);
  ux /= norm;
  uy /= norm;
  let depth = 0;
  for (let k = first; k < last; k++) {
    const i = k % count;
    const across = ux * y[i] - uy * x[i];
    const behind = out.radius * out.radius - across * across;
    depth += ux * x[i] + uy * y[i] + (behind > 0 ? Math.sqrt(behind) : 0);
  }
  depth /= last - first;
  out.x = depth * ux;
  out.y = depth * uy;
}

/** Whether the beam of echo `beside` passes the thing whose rim is echo k. */
function looksPast(order: EchoOrder, k: number, beside: number): boolean {
  const { x, y, v } = order;
  const r = length(x[k], y[k]);
  const far = length(x[beside], y[beside]);
  const spread = PAST * length(r / Math.sqrt(v[k]), far / Math.sqrt(v[beside]));
  return far - r > Math.max(CLEAR_OF, spread) || order.gap(k, beside) > 4;
}

/** rad, where the rim may lie beside an echo: as far as the next beam with an echo, two samples at most. */
function rim(order: EchoOrder, k: number, l: number): number {
  const step = (2 * Math.PI) / order.samples;
  return Math.min(Math.max(angleBetween(order, k, l), 0), 2 * step);
}

function angleBetween(order: EchoOrder, k: number, l: number): number {
  const { x, y } = order;
  return Math.atan2(x[k] * y[l] - x[l] * y[k], x[k] * x[l] + y[k] * y[l]);
}
