import { crossing, type Point } from '../../geometry/crossing.js';
import { length } from '../../geometry/length.js';
import type { EchoOrder } from './echoOrder.js';
import type { LineRows } from './lineRows.js';
import type { PieceSplitter } from './pieceSplitter.js';
import type { SegmentFinder } from './segments.js';
import type { WallFinder } from './walls.js';

/** Where two walls meet, m and rad, rover axes. */
export interface CornerShape {
  readonly x: number;
  readonly y: number;
  /** rad, between the two walls, (0, π). */
  readonly angle: number;
  readonly angleSd: number;
  /** inner: the walls come towards the sensor from the corner, as in a room; outer: they go away, as on a box. */
  readonly kind: 'inner' | 'outer';
}

/** Sine of the least turn between two walls that is a corner: 30 degrees. */
const SINE = 0.5;
/** Echoes a wall needs to make a corner. */
const ECHOES = 4;
/** A wall of fewer than this is weak: its corner must be seen from near both ends and well placed, and not be hidden. */
const WEAK = 8;
const WEAK_UNSEEN = 0.2;
const WEAK_SD = 0.03;
const HIDDEN_ECHOES = 5;
/** m, standard deviation of the crossing beyond which a corner has no place. */
const SD = 0.05;
/** m, from the last echo on either wall to the corner: between neighbouring beams, where something nearer hides it, and where the
 * two walls are, by their echoes, two segments. */
const UNSEEN = 0.5;
const HIDDEN = 0.7;
const APART = 0.1;
/** Sample steps beside the two nearest echoes within which the crossing may lie: breaks are a step or two off at long range. */
const BESIDE = 2.5;
/** Samples from echo to echo that count as neighbouring. */
const GAP = 4;
/** Pieces skipped, all nearer, between the two walls of a corner. */
const SKIP = 6;

/** Where two walls really meet: seen by neighbouring beams, or hidden by something nearer in front of both. */
export class CornerFinder {
  count = 0;
  x = new Float64Array(0);
  y = new Float64Array(0);
  /** [corners], the two walls, counter-clockwise. */
  wallA = new Int32Array(0);
  wallB = new Int32Array(0);
  readonly #at: Point = { x: 0, y: 0 };

  find(order: EchoOrder, pieces: PieceSplitter, walls: WallFinder, segments: SegmentFinder): void {
    this.#reserve(pieces.count);
    this.count = 0;
    const n = pieces.count;
    for (let p = 0; p < n; p++) {
      const a = walls.ofPiece[p];
      if (a < 0 || walls.rows.count[a] < ECHOES) continue;
      for (let step = 1; step <= SKIP && step < n; step++) {
        const q = p + step < n ? p + step : p + step - n;
        const b = walls.ofPiece[q];
        if (b === a) break;
        if (b >= 0 && walls.rows.count[b] >= ECHOES) {
          const apart = step === 1 && pieces.last[p] === pieces.first[q] && segments.ofPiece[p] !== segments.ofPiece[q];
          if (this.#meet(order, walls.rows, a, b, pieces.last[p] - 1, pieces.first[q], step > 1, apart)) break;
        }
        if (!isNearer(order, walls.rows, a, pieces.first[q], pieces.last[q])) break;
      }
    }
  }

  /** Adds the corner of walls a and b whose nearest echoes are k and l, if they meet between. */
  #meet(
    order: EchoOrder,
    rows: LineRows,
    a: number,
    b: number,
    k: number,
    l: number,
    past: boolean,
    apart: boolean,
  ): boolean {
    for (let i = 0; i < this.count; i++) {
      if (this.wallA[i] === a && this.wallB[i] === b) return true; // two lines cross once
    }
    const { a: A, b: B } = rows;
    if (!crossing(A[a], B[a], A[b], B[b], SINE, this.#at)) return false;
    const { x, y } = this.#at;
    if (!liesBetween(order, k, l, x, y)) return false;
    const { x: X, y: Y } = order;
    const dk = length(x - X[k], y - Y[k]);
    const dl = length(x - X[l], y - Y[l]);
    const unseen = Math.max(dk, dl);
    const least = Math.min(rows.count[a], rows.count[b]);
    const limit = apart ? APART : least < WEAK ? WEAK_UNSEEN : order.gap(k, l) > GAP ? HIDDEN : UNSEEN;
    if (unseen > limit || (past && least < HIDDEN_ECHOES)) return false;
    // both lines hold at the crossing c: M c = 1, so dc = -M^-1 (dM c), and dM c varies by the lines' spread there
    const det = A[a] * B[b] - A[b] * B[a];
    const rhoA = A[a] * A[a] + B[a] * B[a];
    const rhoB = A[b] * A[b] + B[b] * B[b];
    const variance = (rhoB * rows.spread(a, x, y) + rhoA * rows.spread(b, x, y)) / (det * det);
    const sd = least < WEAK ? WEAK_SD : SD;
    if (variance > sd * sd) return false;
    const i = this.count++;
    this.x[i] = x;
    this.y[i] = y;
    this.wallA[i] = a;
    this.wallB[i] = b;
    return true;
  }

  shapes(walls: WallFinder, sensor: readonly [number, number]): CornerShape[] {
    const { rows } = walls;
    const out = new Array<CornerShape>(this.count);
    for (let i = 0; i < this.count; i++) {
      const a = this.wallA[i];
      const b = this.wallB[i];
      const cross = rows.a[a] * rows.b[b] - rows.a[b] * rows.b[a];
      const dot = rows.a[a] * rows.a[b] + rows.b[a] * rows.b[b];
      // both normals point away from the sensor: their turn is the bend of the surface, counter-clockwise in a room
      const angle = Math.PI - Math.abs(Math.atan2(cross, dot));
      const angleSd = Math.sqrt(rows.normalVar(a) + rows.normalVar(b));
      out[i] = {
        x: this.x[i] + sensor[0],
        y: this.y[i] + sensor[1],
        angle,
        angleSd,
        kind: cross > 0 ? 'inner' : 'outer',
      };
    }
    return out;
  }

  #reserve(pieces: number): void {
    if (pieces <= this.x.length) return;
    const room = Math.max(64, 2 * pieces);
    this.x = new Float64Array(room);
    this.y = new Float64Array(room);
    this.wallA = new Int32Array(room);
    this.wallB = new Int32Array(room);
  }
}

/** Whether (x, y) lies between the beams of echoes k and l, or not farther beside them than their neighbours would. */
function liesBetween(order: EchoOrder, k: number, l: number, x: number, y: number): boolean {
  const { x: X, y: Y } = order;
  if (x * (X[k] + X[l]) + y * (Y[k] + Y[l]) <= 0) return false;
  const step = (BESIDE * 2 * Math.PI) / order.samples;
  const r = length(x, y);
  const after = (X[k] * y - x * Y[k]) / (length(X[k], Y[k]) * r);
  const before = (x * Y[l] - X[l] * y) / (length(X[l], Y[l]) * r);
  return after >= -step && before >= -step;
}

/** Whether no echo of k .. l - 1 lies beyond wall a. */
function isNearer(order: EchoOrder, rows: LineRows, a: number, k: number, l: number): boolean {
  const { x, y, v } = order;
  for (let i = k; i < l; i++) {
    const on = rows.a[a] * x[i] + rows.b[a] * y[i];
    if (on <= 0 || (on > 1 && v[i] * (on - 1) * (on - 1) > 9)) return false;
  }
  return true;
}
