import type { EchoOrder } from './echoOrder.js';
import type { PieceSplitter } from './pieceSplitter.js';
import type { SegmentFinder } from './segments.js';
import type { WallFinder } from './walls.js';

/** Least turn between two walls that is a corner. */
const TURN = (+(process.env.TURN ?? 30) * Math.PI) / 180;
/** Echoes a wall needs to make a corner. */
const ECHOES = +(process.env.ECH ?? 4);
/** m, least length of a wall that makes a corner. */
const LENGTH = 0.15;
/** m, standard deviation of the crossing beyond which a corner has no place. */
const PLACE = +(process.env.PLACE ?? 0.05);
/** m, from the last echo seen on either wall to a corner that something nearer hides. */
const HIDDEN = +(process.env.HIDDEN ?? 0.7);
const HECHO = +(process.env.HECHO ?? 5);
const APARTD = +(process.env.APARTD ?? 0.1);
const WECH = +(process.env.WECH ?? 6);
const WSP = +(process.env.WSP ?? 0.03);
const WD = +(process.env.WD ?? 0.15);
const UNSEEN = +(process.env.UNSEEN ?? 0.5);
/** Pieces skipped, all nearer, between the two walls of a corner. */
const SKIP = 6;

/** Where two walls really meet: seen by neighbouring beams, or hidden by something nearer in front of both. */
export class CornerFinder {
  count = 0;
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly wallA: Int32Array;
  readonly wallB: Int32Array;
  constructor(capacity: number) {
    this.x = new Float64Array(capacity);
    this.y = new Float64Array(capacity);
    this.wallA = new Int32Array(capacity);
    this.wallB = new Int32Array(capacity);
  }

  find(order: EchoOrder, pieces: PieceSplitter, walls: WallFinder, segments: SegmentFinder): void {
    this.count = 0;
    this.why = [];
    const n = pieces.count;
    for (let p = 0; p < n; p++) {
      const a = walls.ofPiece[p];
      if (a < 0 || walls.rows.count[a] < ECHOES) continue;
      const end = pieces.last[p] - 1;
      for (let step = 1; step <= SKIP && step < n; step++) {
        const q = p + step < n ? p + step : p + step - n;
        const b = walls.ofPiece[q];
        if (b === a) break;
        const apart = step === 1 && pieces.last[p] === pieces.first[q] && segments.ofPiece[p] !== segments.ofPiece[q];
        const isWall = b >= 0 && walls.rows.count[b] >= ECHOES;
        if (isWall && this.#meet(order, walls, a, b, end, pieces.first[q], step > 1, apart)) break;
        if (!isNearer(order, walls, a, pieces.first[q], pieces.last[q])) { this.why.push(`notnearer p${p} q${q} a${a}`); break; }
      }
    }
  }

  /** Adds the corner of walls a and b whose nearest echoes are k and l, if they meet between. */
  why: string[] = [];
  info: string[] = [];
  dd: number[][] = [];
  #meet(order: EchoOrder, walls: WallFinder, a: number, b: number, k: number, l: number, isHidden: boolean, apart: boolean): boolean {
    const { a: A, b: B, vaa, vab, vbb } = walls.rows;
    const det = A[a] * B[b] - A[b] * B[a];
    const norm = Math.hypot(A[a], B[a]) * Math.hypot(A[b], B[b]);
    if (Math.abs(det) < Math.sin(TURN) * norm) { this.why.push(`parallel a${a} b${b}`); return false; };
    const x = (B[b] - B[a]) / det;
    const y = (A[a] - A[b]) / det;
    const { x: X, y: Y } = order;
    // between the beams of k and l, or not farther beside them than their neighbours
    const rk = Math.hypot(X[k], Y[k]);
    const rl = Math.hypot(X[l], Y[l]);
    const r = Math.hypot(x, y);
    const step = (1.5 * 2 * Math.PI) / order.samples;
    const after = (X[k] * y - x * Y[k]) / (rk * r);
    const before = (x * Y[l] - X[l] * y) / (rl * r);
    if (x * (X[k] + X[l]) + y * (Y[k] + Y[l]) <= 0 || after < -step || before < -step) { this.why.push(`beams a${a} b${b}`); return false; };
    const dk = Math.hypot(x - X[k], y - Y[k]);
    const dl = Math.hypot(x - X[l], y - Y[l]);
    if (apart && Math.max(dk, dl) > APARTD) return false;
    const gap = order.gap(k, l);
    if (isHidden && Math.min(walls.rows.count[a], walls.rows.count[b]) < HECHO) return false;
    if (gap > 4 && Math.max(dk, dl) > HIDDEN) { this.why.push(`hidden a${a} b${b}`); return false; };
    // spread of the crossing: M c = 1 gives dc = -M^-1 (dM c)
    const sa = vaa[a] * x * x + 2 * vab[a] * x * y + vbb[a] * y * y;
    const sb = vaa[b] * x * x + 2 * vab[b] * x * y + vbb[b] * y * y;
    const spread = ((B[b] * B[b] + A[b] * A[b]) * sa + (B[a] * B[a] + A[a] * A[a]) * sb) / (det * det);
    if (spread > PLACE * PLACE) { this.why.push(`place a${a} b${b}`); return false; };
    if (Math.min(walls.rows.count[a], walls.rows.count[b]) < WECH && (spread > WSP * WSP || Math.max(dk, dl) > WD)) return false;
    if (gap <= 4 && Math.max(dk, dl) > UNSEEN) return false;
    this.info[this.count] = `gap ${gap} hid ${isHidden} dk ${dk.toFixed(2)} dl ${dl.toFixed(2)} sd ${Math.sqrt(spread).toFixed(3)}`;
    this.dd[this.count] = [gap > 4 ? 1 : 0, Math.max(dk, dl), Math.min(dk, dl)];
    this.x[this.count] = x;
    this.y[this.count] = y;
    this.wallA[this.count] = a;
    this.wallB[this.count++] = b;
    return true;
  }
}

/** Whether no echo of k .. l - 1 lies beyond wall a. */
function isNearer(order: EchoOrder, walls: WallFinder, a: number, k: number, l: number): boolean {
  const { x, y, v } = order;
  for (let i = k; i < l; i++) {
    const on = walls.rows.a[a] * x[i] + walls.rows.b[a] * y[i];
    if (on <= 0 || (on > 1 && v[i] * (on - 1) * (on - 1) > 9)) return false;
  }
  return true;
}
