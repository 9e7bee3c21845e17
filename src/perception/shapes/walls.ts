import type { EchoOrder } from './echoOrder.js';
import { LineRows } from './lineRows.js';
import type { PieceSplitter } from './pieceSplitter.js';

/** chi², 2 degrees of freedom, 0.1 %. */
const SAME = 13.8;
const LOOK_BACK = 8;

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

  find(order: EchoOrder, pieces: PieceSplitter, lines: LineRows): void {
    const { rows, firstPiece, lastPiece, ofPiece } = this;
    this.count = 0;
    for (let p = 0; p < pieces.count; p++) {
      ofPiece[p] = -1;
      if (lines.count[p] < 3) continue;
      let best = SAME;
      let wall = -1;
      for (let w = this.count - 1; w >= 0 && w >= this.count - LOOK_BACK; w--) {
        const d = rows.difference(w, lines, p);
        if (d < best && isHidden(order, rows, w, pieces.last[lastPiece[w]] - 1, pieces.first[p])) {
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
  }
}

/** Whether nothing between echoes k and l was seen beyond the line: the gap is small or something nearer hides it. */
function isHidden(order: EchoOrder, rows: LineRows, w: number, k: number, l: number): boolean {
  const { x, y, v, sample } = order;
  const a = rows.a[w];
  const b = rows.b[w];
  for (let i = k + 1; i < l; i++) {
    const e = 1 - a * x[i] - b * y[i];
    if (e < 0 && v[i] * e * e > 16) return false;
  }
  for (let i = k; i < l; i++) {
    if (Math.abs(sample[i + 1] - sample[i]) > 4 && Math.hypot(x[i + 1] - x[i], y[i + 1] - y[i]) > 0.3) return false;
  }
  return true;
}
