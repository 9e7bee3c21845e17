import { wrapAngle } from '../../core/angles.js';
import { length } from '../../geometry/length.js';
import type { ArcFinder } from './arcs.js';
import type { EchoOrder } from './echoOrder.js';
import { LineRows } from './lineRows.js';
import type { PieceSplitter } from './pieceSplitter.js';

/** A straight wall x·cos(normal) + y·sin(normal) = distance, m and rad, rover axes. */
export interface WallShape {
  /** rad, [-π, π), from the rover's origin towards the wall. */
  readonly normal: number;
  /** m, >= 0. */
  readonly distance: number;
  /** m², m rad, rad². */
  readonly distanceVar: number;
  readonly crossCov: number;
  readonly normalVar: number;
  /** m, where the first and the last beam met it, counter-clockwise. */
  readonly x1: number;
  readonly y1: number;
  readonly x2: number;
  readonly y2: number;
  /** m, standard deviation of the surface about the line, beyond what noise explains; 0 where noise explains all. */
  readonly roughness: number;
  readonly echoes: number;
}

/** chi², 2 degrees of freedom, 0.1 %: up to which two pieces are one wall. */
const SAME = 13.8;
/** Walls back in order that a piece may go on. */
const LOOK_BACK = 8;
/** Echoes from which a wall's line is good enough to be followed beyond its end. */
const REACH_FROM = 5;
/** Pieces, all nearer, past which a wall is followed. */
const REACH_STEPS = 6;
/** Samples up to which a wall at flat incidence, where every second echo is lost, is followed without echo. */
const REACH_GAP = 8;
/** m, gap in the echoes up to which a wall is one though nothing hides it. */
const SMALL_GAP = 0.3;
/** A gap may be this much longer than what is seen of the wall on both sides of it. */
const VOUCH = 3;
/** Echoes, m, rad, m: what a wall told of has at least, and how well it is known: 3 standard deviations are no more than 10 degrees. */
const ECHOES = 6;
const LENGTH = 0.25;
const NORMAL_SD = 0.061;
const DISTANCE_SD = 0.09;
/** Standard deviations of chi² beyond which the surface is not straight. */
const STRAIGHT = 4;

/** Straight walls: pieces of one line whose gaps are small or hidden by something nearer. */
export class WallFinder {
  count = 0;
  readonly rows = new LineRows();
  /** [walls], first and last piece, counter-clockwise: first > last where the wall goes on from the last echo to the first. */
  firstPiece = new Int32Array(0);
  lastPiece = new Int32Array(0);
  /** [pieces], the piece's wall or -1. */
  ofPiece = new Int32Array(0);

  find(order: EchoOrder, pieces: PieceSplitter, lines: LineRows, arcs: ArcFinder): void {
    this.#reserve(pieces.count);
    const { rows, firstPiece, lastPiece, ofPiece } = this;
    this.count = 0;
    for (let p = 0; p < pieces.count; p++) {
      ofPiece[p] = -1;
      if (lines.count[p] < 3 || arcs.isCurved[p] === 1) continue;
      const wall = this.#wallOf(order, pieces, lines, p);
      if (wall < 0) {
        rows.setSpan(this.count, order.sums, pieces.first[p], pieces.last[p]);
        firstPiece[this.count] = p;
        lastPiece[this.count] = p;
        ofPiece[p] = this.count++;
      } else {
        rows.add(wall, lines, p);
        lastPiece[wall] = p;
        ofPiece[p] = wall;
      }
    }
    this.#close(order, pieces);
    for (let w = 0; w < this.count; w++) {
      if (rows.count[w] < REACH_FROM) continue;
      this.#reach(order, pieces, lines, arcs, w, 1);
      this.#reach(order, pieces, lines, arcs, w, -1);
    }
  }

  /** The latest walls' best match for piece p, or -1. */
  #wallOf(order: EchoOrder, pieces: PieceSplitter, lines: LineRows, p: number): number {
    const { rows, firstPiece, lastPiece } = this;
    let best = SAME;
    let wall = -1;
    for (let w = this.count - 1; w >= 0 && w >= this.count - LOOK_BACK; w--) {
      const d = rows.difference(w, lines, p);
      if (d >= best || !isVouched(order, pieces, firstPiece[w], lastPiece[w], p, p)) continue;
      if (!isHidden(order, rows, w, pieces.last[lastPiece[w]] - 1, pieces.first[p])) continue;
      best = d;
      wall = w;
    }
    return wall;
  }

  /** Walls that go on from the last echo to the first. */
  #close(order: EchoOrder, pieces: PieceSplitter): void {
    const { rows, firstPiece, lastPiece, ofPiece } = this;
    for (let f = 0; f < LOOK_BACK && f < this.count; f++) {
      for (let w = this.count - 1; w > f && w >= this.count - LOOK_BACK; w--) {
        if (rows.count[w] === 0 || rows.difference(w, rows, f) >= SAME) continue;
        if (!isVouched(order, pieces, firstPiece[w], lastPiece[w], firstPiece[f], lastPiece[f])) continue;
        if (!isHidden(order, rows, w, pieces.last[lastPiece[w]] - 1, pieces.first[firstPiece[f]] + order.count))
          continue;
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
      const far = way === 1 ? pieces.last[p] - 1 : pieces.first[p];
      if (ofPiece[p] === w || order.gap(from, near) > REACH_GAP) return;
      const side = sideOf(order, rows, w, pieces.first[p], pieces.last[p]);
      if (side < 0) return;
      from = far;
      if (side > 0) continue;
      if (ofPiece[p] >= 0 || arcs.isCurved[p] === 1) return;
      rows.add(w, lines, p);
      ofPiece[p] = w;
      end[w] = p;
      step = -1;
    }
  }

  /** The walls known well enough to be told, about the rover's origin. */
  shapes(order: EchoOrder, pieces: PieceSplitter, sensor: readonly [number, number]): WallShape[] {
    const out: WallShape[] = [];
    for (let w = 0; w < this.count; w++)
      if (this.isKnown(order, pieces, w)) out.push(this.#shape(order, pieces, w, sensor));
    return out;
  }

  isKnown(order: EchoOrder, pieces: PieceSplitter, w: number): boolean {
    const { rows } = this;
    const n = rows.count[w];
    if (n < ECHOES || rows.normalVar(w) > NORMAL_SD * NORMAL_SD || rows.distanceVar(w) > DISTANCE_SD * DISTANCE_SD)
      return false;
    if (rows.chi(w) > n - 2 + STRAIGHT * Math.sqrt(2 * (n - 2))) return false;
    const { x, y } = order;
    const k = pieces.first[this.firstPiece[w]];
    const l = pieces.last[this.lastPiece[w]] - 1;
    return length(x[l] - x[k], y[l] - y[k]) >= LENGTH;
  }

  #shape(order: EchoOrder, pieces: PieceSplitter, w: number, sensor: readonly [number, number]): WallShape {
    const { rows } = this;
    const { x, y } = order;
    const a = rows.a[w];
    const b = rows.b[w];
    const rho = length(a, b);
    const k = pieces.first[this.firstPiece[w]];
    const l = pieces.last[this.lastPiece[w]] - 1;
    const onK = 1 / (a * x[k] + b * y[k]); // along the beam onto the line
    const onL = 1 / (a * x[l] + b * y[l]);
    // about the rover's origin: distance' = distance + sensor · normal
    const along = (sensor[0] * a + sensor[1] * b) / rho;
    const turn = (sensor[1] * a - sensor[0] * b) / rho;
    const distance = 1 / rho + along;
    const vn = rows.normalVar(w);
    const cov = rows.crossCov(w);
    const flip = distance < 0;
    const excess = rows.chi(w) - (rows.count[w] - 2);
    const isRough = excess > 2 * Math.sqrt(2 * (rows.count[w] - 2));
    return {
      normal: wrapAngle(Math.atan2(b, a) + (flip ? Math.PI : 0)),
      distance: Math.abs(distance),
      distanceVar: rows.distanceVar(w) + 2 * turn * cov + turn * turn * vn,
      crossCov: (flip ? -1 : 1) * (cov + turn * vn),
      normalVar: vn,
      x1: x[k] * onK + sensor[0],
      y1: y[k] * onK + sensor[1],
      x2: x[l] * onL + sensor[0],
      y2: y[l] * onL + sensor[1],
      // moment estimate of a variance on top of known ones: Σ 1 / (perpendicular sigma)² = Σv / distance²
      roughness: isRough ? Math.sqrt(excess / rows.sv[w]) / rho : 0,
      echoes: rows.count[w],
    };
  }

  #reserve(pieces: number): void {
    this.rows.reserve(pieces);
    if (pieces <= this.ofPiece.length) return;
    const room = Math.max(64, 2 * pieces);
    this.firstPiece = new Int32Array(room);
    this.lastPiece = new Int32Array(room);
    this.ofPiece = new Int32Array(room);
  }
}

/** 0 where the echoes k .. l - 1 lie on wall w's line, 1 where one is nearer, -1 where one is farther. */
function sideOf(order: EchoOrder, rows: LineRows, w: number, k: number, l: number): number {
  const { x, y, v } = order;
  for (let i = k; i < l; i++) {
    const on = rows.a[w] * x[i] + rows.b[w] * y[i];
    if (on <= 0) return -1;
    if ((1 - on) * (1 - on) > 9 * (1 / v[i] + rows.spread(w, x[i], y[i]))) return on < 1 ? 1 : -1;
  }
  return 0;
}

/** Whether a wall of pieces a .. b and one of pieces c .. d are seen along enough of them to vouch for the gap between. */
function isVouched(order: EchoOrder, pieces: PieceSplitter, a: number, b: number, c: number, d: number): boolean {
  const { x, y } = order;
  const { first, last } = pieces;
  const i = first[a];
  const j = last[b] - 1;
  const k = first[c];
  const l = last[d] - 1;
  if (order.gap(j, k) <= 2) return true;
  const seen = length(x[j] - x[i], y[j] - y[i]) + length(x[l] - x[k], y[l] - y[k]);
  return length(x[k] - x[j], y[k] - y[j]) < VOUCH * seen;
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
    if (on <= 0 || (n < l && on > 1 && v[i] * (on - 1) * (on - 1) > 16)) return false;
    const gap = order.gap(before, i);
    if (gap > 4 && (gap > REACH_GAP || length(x[i] - x[before], y[i] - y[before]) > SMALL_GAP)) return false;
    before = i;
  }
  return true;
}
