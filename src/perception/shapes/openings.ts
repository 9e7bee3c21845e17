import { length } from '../../geometry/length.js';
import type { EchoOrder } from './echoOrder.js';
import type { LineRows } from './lineRows.js';
import type { PieceSplitter } from './pieceSplitter.js';
import type { PostFinder } from './posts.js';
import type { SegmentFinder } from './segments.js';
import type { WallFinder } from './walls.js';

/** A gap that a rover could pass, m, rover axes; from its first side to its second, counter-clockwise. */
export interface OpeningShape {
  readonly x1: number;
  readonly y1: number;
  readonly x2: number;
  readonly y2: number;
  readonly width: number;
  readonly widthSd: number;
}

/** m, by how much every echo within an opening must lie beyond it. */
const BEYOND = 0.25;
/** Share of the beams through an opening that must have come back: fewer is glass, or out of reach, and vouches for nothing. */
const SEEN = 0.7;
/** Beams that must have passed. */
const BEAMS = 3;
/** Samples without echo in a row that still count as drop-outs. */
const BRIDGE = 3;

/** Echoes of a wall that makes an opening's side. */
const FIRM = 4;

/** What a sweep's openings are found from. */
export interface OpeningParts {
  readonly order: EchoOrder;
  readonly pieces: PieceSplitter;
  readonly lines: LineRows;
  readonly segments: SegmentFinder;
  readonly walls: WallFinder;
  readonly posts: PostFinder;
}

/** One side of a possible opening: where something ends and the next beam looks past. */
interface Edge {
  x: number;
  y: number;
  /** m, standard deviation along the surface that ends here. */
  sd: number;
}

/**
 * Gaps that a rover could pass: two edges with nothing between them but echoes well beyond. An edge lies between the last beam
 * that met the surface and the first that passed it, half a gap on along the surface, give or take gap / sqrt(12).
 */
export class OpeningFinder {
  readonly #least: number;
  readonly #most: number;
  readonly #from: Edge = { x: 0, y: 0, sd: 0 };
  readonly #to: Edge = { x: 0, y: 0, sd: 0 };
  /** [segments], 1 where the segment is a post or has a wall: only these make an opening's sides. */
  #isFirm = new Uint8Array(0);
  /** [pieces], the narrowest opening that ends at the piece. */
  #best: Array<OpeningShape | undefined> = [];

  /** @param least, most m, width of an opening worth telling. */
  constructor(least: number, most: number) {
    this.#least = least;
    this.#most = most;
  }

  /** The openings, each side in one at most: of several that share a side the narrowest is the one to be passed. */
  find(parts: OpeningParts, sensor: readonly [number, number]): OpeningShape[] {
    this.#mark(parts);
    const { order, pieces, segments } = parts;
    if (this.#best.length < pieces.count) this.#best = new Array<OpeningShape | undefined>(2 * pieces.count);
    const best = this.#best.fill(undefined);
    for (let p = 0; p < pieces.count; p++) {
      if (this.#isFirm[segments.ofPiece[p]] === 0) continue;
      const q = p + 1 < pieces.count ? p + 1 : 0;
      if (isFarther(order, pieces.last[p] - 1, pieces.first[q])) this.#search(parts, p, sensor);
    }
    const out: OpeningShape[] = [];
    for (let q = 0; q < pieces.count; q++) {
      const shape = best[q];
      if (shape !== undefined) out.push(shape);
    }
    return out;
  }

  #mark({ pieces, segments, walls, posts }: OpeningParts): void {
    if (this.#isFirm.length < segments.count) this.#isFirm = new Uint8Array(2 * segments.count);
    for (let s = 0; s < segments.count; s++) this.#isFirm[s] = posts.isPost[s];
    for (let p = 0; p < pieces.count; p++) {
      const w = walls.ofPiece[p];
      if (w >= 0 && walls.rows.count[w] >= FIRM) this.#isFirm[segments.ofPiece[p]] = 1;
    }
  }

  /** Looks counter-clockwise from the end of piece p for the nearest other side. */
  #search(parts: OpeningParts, p: number, sensor: readonly [number, number]): void {
    const { order, pieces, segments } = parts;
    const { x, y, count } = order;
    const k = pieces.last[p] - 1;
    const reach = this.#most + 0.5;
    let shape: OpeningShape | undefined;
    let side = -1;
    for (let step = 2; step < pieces.count; step++) {
      const q = p + step < pieces.count ? p + step : p + step - pieces.count;
      const l = pieces.first[q];
      if (x[k] * y[l] - x[l] * y[k] <= 0) break; // half a turn on
      const beams = (l - k + count) % count;
      const dx = x[l] - x[k];
      const dy = y[l] - y[k];
      if (beams <= BEAMS || dx * dx + dy * dy > reach * reach || segments.ofPiece[p] === segments.ofPiece[q]) continue;
      if (this.#isFirm[segments.ofPiece[q]] === 0 || !isFarther(order, l, (l === 0 ? count : l) - 1)) continue;
      if (!isOpen(order, k, beams)) continue;
      const next = this.#between(parts, p, q, sensor);
      if (next === undefined || (shape !== undefined && shape.width <= next.width)) continue;
      shape = next;
      side = q;
    }
    if (shape === undefined) return;
    const other = this.#best[side];
    if (other === undefined || other.width > shape.width) this.#best[side] = shape;
  }

  #between(parts: OpeningParts, p: number, q: number, sensor: readonly [number, number]): OpeningShape | undefined {
    const { order, pieces, lines } = parts;
    const { x, y, v, count } = order;
    const k = pieces.last[p] - 1;
    const l = pieces.first[q];
    const a = this.#from;
    const b = this.#to;
    edge(order, lines, p, k, k + 1 < count ? k + 1 : 0, a);
    edge(order, lines, q, l, (l === 0 ? count : l) - 1, b);
    const width = length(b.x - a.x, b.y - a.y);
    if (!(width >= this.#least && width <= this.#most)) return;
    const ux = (b.x - a.x) / width;
    const uy = (b.y - a.y) / width;
    // each end may move along its surface by what is not known of the edge, and along its beam by the range's noise
    const noiseA = (x[k] * ux + y[k] * uy) / Math.sqrt(v[k]);
    const noiseB = (x[l] * ux + y[l] * uy) / Math.sqrt(v[l]);
    const widthSd = Math.hypot(a.sd, b.sd, noiseA, noiseB);
    const [sx, sy] = sensor;
    return { x1: a.x + sx, y1: a.y + sy, x2: b.x + sx, y2: b.y + sy, width, widthSd };
  }
}

/** Whether the beam of echo l looks past echo k, not only along its surface. */
function isFarther(order: EchoOrder, k: number, l: number): boolean {
  const { x, y } = order;
  return order.gap(k, l) <= BRIDGE + 1 && length(x[l], y[l]) > length(x[k], y[k]) + BEYOND;
}

/** Whether every beam between echo k and the echo `step` further came back from well beyond the line between the two. */
function isOpen(order: EchoOrder, k: number, step: number): boolean {
  const { x, y, count } = order;
  const l = (k + step) % count;
  let nx = y[l] - y[k];
  let ny = x[k] - x[l];
  const norm = length(nx, ny);
  nx /= norm;
  ny /= norm;
  const d = nx * x[k] + ny * y[k]; // positive: the sensor is on the near side
  if (d <= 0) return false;
  for (let i = 1, before = k; i <= step; i++) {
    const m = (k + i) % count;
    if (order.gap(before, m) > BRIDGE + 1) return false;
    if (i < step) {
      const on = nx * x[m] + ny * y[m];
      // along the beam: how far behind the line the echo is
      if (on <= d || (1 - d / on) * length(x[m], y[m]) < BEYOND) return false;
    }
    before = m;
  }
  return step - 1 >= SEEN * (order.gap(k, l) - 1);
}

/** Where the surface of echo k ends before the beam of echo `past`. */
function edge(order: EchoOrder, lines: LineRows, piece: number, k: number, past: number, out: Edge): void {
  const { x, y } = order;
  const rk = length(x[k], y[k]);
  const rp = length(x[past], y[past]);
  const ux = x[k] / rk + x[past] / rp; // half-way between the two beams
  const uy = y[k] / rk + y[past] / rp;
  let scale = rk / length(ux, uy);
  if (lines.count[piece] >= 4) {
    const on = lines.a[piece] * ux + lines.b[piece] * uy;
    // at flat incidence the line runs away between two beams: not farther than twice the last echo's step
    if (on > 0.5 / scale) scale = 1 / on;
  }
  out.x = scale * ux;
  out.y = scale * uy;
  out.sd = (2 * length(out.x - x[k], out.y - y[k])) / Math.sqrt(12);
}
