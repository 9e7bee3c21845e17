import { ENDS, type EchoOrder, SEAM } from './echoOrder.js';
import type { LineRows } from './lineRows.js';
import type { PieceSplitter } from './pieceSplitter.js';

/** Standard deviations by which both sides must miss each other to be two surfaces. */
const APART = +(process.env.APART ?? 4);
/** Standard deviations up to which an echo could lie on a line. */
const ON = +(process.env.ON ?? 3.5);
/** tan of the steepest incidence at which a lone echo is still taken to belong to its neighbour's surface. */
const STEEP = +(process.env.STEEP ?? 3);

/** Which neighbouring pieces are one connected visible surface. */
export class SegmentFinder {
  /** [pieces], the piece's segment, counted in order. */
  readonly ofPiece: Int32Array;
  /**
   * [pieces], 1: a lone echo between its neighbours along the beam. A beam that straddles an edge gives such an echo, and so
   * does a thing that only one beam met (in the worlds 3 or 4 of 10), so it is a segment of its own and no part of any other shape.
   */
  readonly isLone: Uint8Array;
  count = 0;
  constructor(capacity: number) {
    this.ofPiece = new Int32Array(capacity);
    this.isLone = new Uint8Array(capacity);
  }

  find(order: EchoOrder, pieces: PieceSplitter, lines: LineRows): void {
    const { ofPiece, isLone } = this;
    let previous = -1;
    this.count = 0;
    for (let p = 0; p < pieces.count; p++) {
      isLone[p] = liesBetween(order, pieces, p) ? 1 : 0;
      if (isLone[p] === 1) ofPiece[p] = this.count++;
      else {
        ofPiece[p] = previous >= 0 && touch(order, pieces, lines, previous, p) ? ofPiece[previous] : this.count++;
        previous = p;
      }
    }
    this.#close(order, pieces, lines, previous);
  }

  /** The last surface may go on as the first. */
  #close(order: EchoOrder, pieces: PieceSplitter, lines: LineRows, last: number): void {
    const { ofPiece, isLone } = this;
    let first = 0;
    while (first < last && isLone[first] === 1) first++;
    if (first >= last || ofPiece[first] === ofPiece[last] || !touch(order, pieces, lines, last, first)) return;
    const joined = ofPiece[last];
    for (let p = 0; p < pieces.count; p++) {
      if (ofPiece[p] === joined) ofPiece[p] = ofPiece[first];
      else if (ofPiece[p] > joined) ofPiece[p]--;
    }
    this.count--;
  }
}

function liesBetween(order: EchoOrder, pieces: PieceSplitter, p: number): boolean {
  const k = pieces.first[p];
  const { x, y, v, count } = order;
  if (pieces.last[p] - k !== 1 || count < 3) return false;
  const a = k === 0 ? count - 1 : k - 1;
  const b = k === count - 1 ? 0 : k + 1;
  if (order.gap(a, k) > 2 || order.gap(k, b) > 2) return false;
  const r = Math.hypot(x[k], y[k]);
  const ra = Math.hypot(x[a], y[a]);
  const rb = Math.hypot(x[b], y[b]);
  return (r - ra) * (rb - r) > 0 && Math.abs(rb - ra) > 10 * r / Math.sqrt(v[k]);
}

function touch(order: EchoOrder, pieces: PieceSplitter, lines: LineRows, p: number, q: number): boolean {
  const k = pieces.last[p] - 1;
  const l = pieces.first[q];
  const next = l - k === 1 || (l === 0 && k === order.count - 1);
  if (next && order.cut[k] === ENDS) return false;
  const isSeam = order.cut[k] === SEAM;
  if (!isSeam && gapOf(order, k, l) > 4) return false;
  if (isSeam && lines.count[p] >= 2 && lines.count[q] >= 2 && lines.difference(p, lines, q) < 16) return true;
  if (!isSeam && lines.count[p] >= 3 && lines.count[q] >= 3) return linesMeet(order, pieces, lines, p, q);
  return order.isClose(k, l, STEEP);
}

function gapOf(order: EchoOrder, k: number, l: number): number {
  const gap = Math.abs(order.sample[l] - order.sample[k]);
  return Math.min(gap, Math.abs(order.samples - gap));
}

/** Whether the lines of p and q meet between p's last and q's first echo, as far as their spread can tell. */
function linesMeet(order: EchoOrder, pieces: PieceSplitter, lines: LineRows, p: number, q: number): boolean {
  const { x, y } = order;
  const k = pieces.last[p] - 1;
  const l = pieces.first[q];
  const da = lines.a[q] - lines.a[p];
  const db = lines.b[q] - lines.b[p];
  // a break may be one echo off where that echo could as well lie on the other line
  const i = k > pieces.first[p] && isOn(order, lines, q, k) ? k - 1 : k;
  const j = l + 1 < pieces.last[q] && isOn(order, lines, p, l) ? l + 1 : l;
  if ((da * x[i] + db * y[i]) * (da * x[j] + db * y[j]) < 0) return true;
  const aa = lines.vaa[p] + lines.vaa[q];
  const ab = lines.vab[p] + lines.vab[q];
  const bb = lines.vbb[p] + lines.vbb[q];
  const ek = da * x[k] + db * y[k];
  const el = da * x[l] + db * y[l];
  const zk = (ek * ek) / (aa * x[k] * x[k] + 2 * ab * x[k] * y[k] + bb * y[k] * y[k]);
  const zl = (el * el) / (aa * x[l] * x[l] + 2 * ab * x[l] * y[l] + bb * y[l] * y[l]);
  return Math.min(zk, zl) < APART * APART;
}

/** Whether echo k's own noise, and what is not known of the line, explain its distance from line p. */
function isOn(order: EchoOrder, lines: LineRows, p: number, k: number): boolean {
  const x = order.x[k];
  const y = order.y[k];
  const e = 1 - lines.a[p] * x - lines.b[p] * y;
  const spread = lines.vaa[p] * x * x + 2 * lines.vab[p] * x * y + lines.vbb[p] * y * y;
  return e * e < ON * ON * (1 / order.v[k] + spread);
}
