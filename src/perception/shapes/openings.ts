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

/** What a segment may be as an opening's side. */
const WALL = 1;
const POST = 2;
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
  /** [segments], POST, WALL (a segment that has one) or 0: only these make an opening's sides. */
  #firm = new Uint8Array(0);
  /** [2 · pieces], the narrowest opening that ends at the piece, from a wall and from a post. */
  #best: Array<OpeningShape | undefined> = [];

  /** @param least, most m, width of an opening worth telling. */
  constructor(least: number, most: number) {
    this.#least = least;
    this.#most = most;
  }

  /** The openings: of several between walls that share a side the narrowest, and so for those that a post has part in. */
  find(parts: OpeningParts, sensor: readonly [number, number]): OpeningShape[] {
    this.#mark(parts);
    const { order, pieces, segments } = parts;
    const room = 2 * pieces.count; // an opening that ends at a piece may begin at a wall and another at a post
    if (this.#best.length < room) this.#best = new Array<OpeningShape | undefined>(room);
    const best = this.#best.fill(undefined);
    for (let p = 0; p < pieces.count; p++) {
      if (this.#firm[segments.ofPiece[p]] === 0) continue;
      if (!isFarther(order, pieces.last[p] - 1, echoAfter(parts, p))) continue;
      this.#search(parts, p, WALL, sensor);
      this.#search(parts, p, POST, sensor);
    }
    const out: OpeningShape[] = [];
    for (let b = 0; b < room; b++) {
      const shape = best[b];
      if (shape !== undefined) out.push(shape);
    }
    return out;
  }

  #mark({ pieces, segments, walls, posts }: OpeningParts): void {
    if (this.#firm.length < segments.count) this.#firm = new Uint8Array(2 * segments.count);
    for (let s = 0; s < segments.count; s++) this.#firm[s] = posts.isPost[s] === 1 ? POST : 0;
    for (let p = 0; p < pieces.count; p++) {
      const w = walls.ofPiece[p];
      const s = segments.ofPiece[p];
      if (w >= 0 && walls.rows.count[w] >= FIRM && this.#firm[s] === 0) this.#firm[s] = WALL;
    }
  }

  /** Looks counter-clockwise from the end of piece p for the nearest other side of a kind. */
  #search(parts: OpeningParts, p: number, kind: number, sensor: readonly [number, number]): void {
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
      if (this.#firm[segments.ofPiece[q]] !== kind || !isFarther(order, l, echoBefore(parts, q))) continue;
      if (!isOpen(order, k, l, echoAfter(parts, p), echoBefore(parts, q))) continue;
      const next = this.#between(parts, p, q, sensor);
      if (next === undefined || (shape !== undefined && shape.width <= next.width)) continue;
      shape = next;
      side = q;
    }
    if (shape === undefined) return;
    const slot = 2 * side + (this.#firm[segments.ofPiece[p]] === POST ? 1 : 0);
    const other = this.#best[slot];
    if (other === undefined || other.width > shape.width) this.#best[slot] = shape;
  }

  #between(parts: OpeningParts, p: number, q: number, sensor: readonly [number, number]): OpeningShape | undefined {
    const { order, pieces, lines } = parts;
    const { x, y, v } = order;
    const k = pieces.last[p] - 1;
    const l = pieces.first[q];
    const a = this.#from;
    const b = this.#to;
    edge(order, lines, p, k, echoAfter(parts, p), a);
    edge(order, lines, q, l, echoBefore(parts, q), b);
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

/** The first echo after piece p, a mixed pixel at its edge left out. */
function echoAfter({ pieces, segments }: OpeningParts, p: number): number {
  let q = p + 1 < pieces.count ? p + 1 : 0;
  if (segments.isLone[q] === 1) q = q + 1 < pieces.count ? q + 1 : 0;
  return pieces.first[q];
}

/** The last echo before piece q, a mixed pixel at its edge left out. */
function echoBefore({ pieces, segments }: OpeningParts, q: number): number {
  let p = (q > 0 ? q : pieces.count) - 1;
  if (segments.isLone[p] === 1) p = (p > 0 ? p : pieces.count) - 1;
  return pieces.last[p] - 1;
}

/** Whether every echo from `from` to `to`, between the sides' echoes k and l, came back from well beyond the line k-l. */
function isOpen(order: EchoOrder, k: number, l: number, from: number, to: number): boolean {
  const { x, y, count } = order;
  let nx = y[l] - y[k];
  let ny = x[k] - x[l];
  const norm = length(nx, ny);
  nx /= norm;
  ny /= norm;
  const d = nx * x[k] + ny * y[k]; // positive: the sensor is on the near side
  const inside = (to - from + count) % count;
  if (d <= 0 || inside + 1 < BEAMS || inside > count / 2) return false;
  for (let i = 0, before = k; i <= inside; i++) {
    const m = (from + i) % count;
    const on = nx * x[m] + ny * y[m];
    // along the beam: how far behind the line the echo is
    if (on <= d || (1 - d / on) * length(x[m], y[m]) < BEYOND || order.gap(before, m) > BRIDGE + 1) return false;
    before = m;
  }
  return order.gap(to, l) <= BRIDGE + 1 && inside + 1 >= SEEN * (order.gap(from, to) + 1);
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
