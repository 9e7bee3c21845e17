import type { ArcFinder } from './arcs.js';
import type { EchoOrder } from './echoOrder.js';
import { LineRows } from './lineRows.js';
import type { PieceSplitter } from './pieceSplitter.js';

/** chi², 2 degrees of freedom, 0.1 %. */
const SAME = 13.8;
const LOOK_BACK = 8;
/** Echoes from which a wall's line is good enough to be followed beyond its end. */
const REACH_FROM = +(process.env.RFROM ?? 5);
/** Pieces, all nearer, past which a wall is followed. */
const REACH_STEPS = +(process.env.RSTEP ?? 6);
/** Samples up to which a wall at flat incidence, where every second echo is lost, is followed without echo. */
const REACH_GAP = 8;

/** Straight walls: pieces of one line whose gaps are small or hidden by something nearer. */
export class WallFinder {
  count = 0;
  readonly rows: LineRows;
  /** [walls], first and last piece. */
  readonly firstPiece: Int32Array;
  readonly lastPiece: Int32Array;
  readonly ofPiece: Int32Array;
  constructor(capacity: number) {
    this.rows = new LineRows(capacity);
    this.firstPiece = new Int32Array(capacity);
    this.lastPiece = new Int32Array(capacity);
    this.ofPiece = new Int32Array(capacity);
  }

  find(order: EchoOrder, pieces: PieceSplitter, lines: LineRows, arcs: ArcFinder): void {
    const { rows, firstPiece, lastPiece, ofPiece } = this;
    this.count = 0;
    for (let p = 0; p < pieces.count; p++) {
      ofPiece[p] = -1;
      if (lines.count[p] < 3 || arcs.isCurved[p] === 1) continue;
      let best = SAME;
      let wall = -1;
      for (let w = this.count - 1; w >= 0 && w >= this.count - LOOK_BACK; w--) {
        const d = rows.difference(w, lines, p);
        if (d < best && isHidden(order, rows, w, pieces.last[lastPiece[w]] - 1, pieces.first[p]) && isVouched(order, pieces, w, firstPiece[w], lastPiece[w], p, p)) {
          best = d;
          wall = w;
        }
      }
      if (wall < 0) {
        wall = this.count++;
        rows.setSpan(wall, order.sums, pieces.first[p], pieces.last[p]);
        firstPiece[wall] = p;
      } else rows.add(wall, lines, p);
      lastPiece[wall] = p;
      ofPiece[p] = wall;
    }
    this.#close(order, pieces);
    for (let w = 0; w < this.count; w++) {
      if (rows.count[w] < REACH_FROM) continue;
      this.#reach(order, pieces, lines, arcs, w, 1);
      this.#reach(order, pieces, lines, arcs, w, -1);
    }
  }

  /** Walls that go on from the last echo to the first. */
  #close(order: EchoOrder, pieces: PieceSplitter): void {
    const { rows, firstPiece, lastPiece, ofPiece } = this;
    for (let f = 0; f < LOOK_BACK && f < this.count; f++) {
      for (let w = this.count - 1; w > f && w >= this.count - LOOK_BACK; w--) {
        if (rows.count[w] === 0 || rows.difference(w, rows, f) >= SAME) continue;
        if (!isHidden(order, rows, w, pieces.last[lastPiece[w]] - 1, pieces.first[firstPiece[f]] + order.count)) continue;
        if (!isVouched(order, pieces, w, firstPiece[w], lastPiece[w], firstPiece[f], lastPiece[f])) continue;
        rows.add(f, rows, w);
        rows.count[w] = 0;
        firstPiece[f] = firstPiece[w];
        for (let p = 0; p < pieces.count; p++) if (ofPiece[p] === w) ofPiece[p] = f;
        break;
      }
    }
  }

  /** Follows the wall beyond its end over echoes too few to make a line of their own. */
  #reach(order: EchoOrder, pieces: PieceSplitter, lines: LineRows, arcs: ArcFinder, w: number, way: 1 | -1): void {
    const { rows, firstPiece, lastPiece, ofPiece } = this;
    const end = way === 1 ? lastPiece : firstPiece;
    let p = end[w];
    let from = way === 1 ? pieces.last[p] - 1 : pieces.first[p];
    for (let step = 0; step < REACH_STEPS; step++) {
      p += way;
      if (p === pieces.count) p = 0;
      if (p < 0) p = pieces.count - 1;
      const near = way === 1 ? pieces.first[p] : pieces.last[p] - 1;
      if (ofPiece[p] === w || order.gap(from, near) > REACH_GAP) return;
      const side = sideOf(order, rows, w, pieces.first[p], pieces.last[p]);
      if (side < 0) return;
      if (side > 0) {
        from = way === 1 ? pieces.last[p] - 1 : pieces.first[p];
        continue;
      }
      if (ofPiece[p] >= 0 || arcs.isCurved[p] === 1) return;
      rows.add(w, lines, p);
      ofPiece[p] = w;
      end[w] = p;
      from = way === 1 ? pieces.last[p] - 1 : pieces.first[p];
      step = -1;
    }
  }
}

/** 0 where the echoes k .. l - 1 lie on wall w's line, 1 where one is nearer, -1 where one is farther. */
function sideOf(order: EchoOrder, rows: LineRows, w: number, k: number, l: number): number {
  const { x, y, v } = order;
  for (let i = k; i < l; i++) {
    const on = rows.a[w] * x[i] + rows.b[w] * y[i];
    if (on <= 0) return -1;
    const spread = 1 / v[i] + rows.vaa[w] * x[i] * x[i] + 2 * rows.vab[w] * x[i] * y[i] + rows.vbb[w] * y[i] * y[i];
    if ((1 - on) * (1 - on) > 9 * spread) return on < 1 ? 1 : -1;
  }
  return 0;
}

/** Whether a wall of pieces a .. b and one of pieces c .. d are seen along at least as much as the gap between them is long. */
function isVouched(order: EchoOrder, pieces: PieceSplitter, _w: number, a: number, b: number, c: number, d: number): boolean {
  const { x, y } = order;
  const { first, last } = pieces;
  const i = first[a];
  const j = last[b] - 1;
  const k = first[c];
  const l = last[d] - 1;
  const gap = Math.hypot(x[k] - x[j], y[k] - y[j]);
  return gap < 3 * (Math.hypot(x[j] - x[i], y[j] - y[i]) + Math.hypot(x[l] - x[k], y[l] - y[k])) || order.gap(j, k) <= 2;
}

/** Whether nothing between echoes k and l was seen beyond the line: the gap is small or something nearer hides it. */
function isHidden(order: EchoOrder, rows: LineRows, w: number, k: number, l: number): boolean {
  const { x, y, v, count } = order;
  const a = rows.a[w];
  const b = rows.b[w];
  let before = k;
  for (let n = k + 1; n <= l; n++) {
    const i = n >= count ? n - count : n;
    const on = a * x[i] + b * y[i];
    if (on <= 0) return false;
    const e = 1 - on;
    if (n < l && e < 0 && v[i] * e * e > 16) return false;
    const gap = order.gap(before, i);
    if (gap > 4 && (gap > REACH_GAP || Math.hypot(x[i] - x[before], y[i] - y[before]) > 0.3)) return false;
    before = i;
  }
  return true;
}
