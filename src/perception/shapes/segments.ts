import { length } from '../../geometry/length.js';
import { type EchoOrder, ENDS, SEAM } from './echoOrder.js';
import type { LineRows } from './lineRows.js';
import type { PieceSplitter } from './pieceSplitter.js';

/** One connected visible surface, m, rover axes. */
export interface SegmentShape {
  /** Samples first .. first + count - 1 of the sweep, in the order of measuring, wrapping. */
  readonly first: number;
  readonly count: number;
  /** m, mean of its echoes. */
  readonly x: number;
  readonly y: number;
  /** m, from its first echo to its last. */
  readonly width: number;
}

/** Standard deviations by which two lines must miss each other on both sides of a break to be two surfaces. */
const APART = 4;
/** Standard deviations up to which an echo could lie on a line. */
const ON = 3.5;
/** chi², 2 degrees of freedom, up to which two lines are one across the seam. */
const SAME = 16;
/** Samples from one echo to the next up to which a surface is followed: three drop-outs. */
const GAP = 4;
/** Standard deviations of range between the neighbours of an echo that may be a mixed pixel. */
const EDGE = 10;

/** Which neighbouring pieces are one connected visible surface. */
export class SegmentFinder {
  count = 0;
  /** [pieces], the piece's segment, counted in order. */
  ofPiece = new Int32Array(0);
  /**
   * [pieces], 1: a lone echo between its neighbours along the beam. A beam that straddles an edge gives such an echo, and so
   * does a thing that only one beam met (in simulated worlds 3 to 5 of 10): it is a segment of its own and no part of any
   * other shape.
   */
  isLone = new Uint8Array(0);
  /** [segments], first and last piece; first > last where the segment goes on from the last echo to the first. */
  firstPiece = new Int32Array(0);
  lastPiece = new Int32Array(0);

  find(order: EchoOrder, pieces: PieceSplitter, lines: LineRows): void {
    this.#reserve(pieces.count);
    const { ofPiece, isLone, firstPiece, lastPiece } = this;
    let previous = -1;
    this.count = 0;
    for (let p = 0; p < pieces.count; p++) {
      isLone[p] = liesBetween(order, pieces, p) ? 1 : 0;
      const joins = isLone[p] === 0 && previous >= 0 && touch(order, pieces, lines, previous, p);
      const s = joins ? ofPiece[previous] : this.count++;
      if (!joins) firstPiece[s] = p;
      lastPiece[s] = p;
      ofPiece[p] = s;
      if (isLone[p] === 0) previous = p;
    }
    this.#close(order, pieces, lines, previous);
  }

  /** The last surface may go on as the first. */
  #close(order: EchoOrder, pieces: PieceSplitter, lines: LineRows, last: number): void {
    const { ofPiece, isLone, firstPiece, lastPiece } = this;
    let first = 0;
    while (first < last && isLone[first] === 1) first++;
    if (first >= last || ofPiece[first] === ofPiece[last] || !touch(order, pieces, lines, last, first)) return;
    const kept = ofPiece[first];
    const joined = ofPiece[last];
    firstPiece[kept] = firstPiece[joined];
    for (let p = 0; p < pieces.count; p++) {
      if (ofPiece[p] === joined) ofPiece[p] = kept;
      else if (ofPiece[p] > joined) ofPiece[p]--;
    }
    for (let s = joined; s + 1 < this.count; s++) {
      firstPiece[s] = firstPiece[s + 1];
      lastPiece[s] = lastPiece[s + 1];
    }
    this.count--;
  }

  /** @returns Int32Array[samples], fresh: each sample's segment, -1 without echo. */
  labels(order: EchoOrder, pieces: PieceSplitter): Int32Array {
    const labels = new Int32Array(order.length).fill(-1);
    for (let p = 0; p < pieces.count; p++) {
      const s = this.ofPiece[p];
      for (let k = pieces.first[p]; k < pieces.last[p]; k++) labels[order.sample[k]] = s;
    }
    return labels;
  }

  shapes(order: EchoOrder, pieces: PieceSplitter, sensor: readonly [number, number]): SegmentShape[] {
    const { x, y, sample, length: samples } = order;
    const out = new Array<SegmentShape>(this.count);
    for (let s = 0; s < this.count; s++) {
      const k = pieces.first[this.firstPiece[s]];
      const l = pieces.last[this.lastPiece[s]] - 1;
      let sx = 0;
      let sy = 0;
      let n = 0;
      for (let i = k; ; i = i + 1 < order.count ? i + 1 : 0) {
        sx += x[i];
        sy += y[i];
        n++;
        if (i === l) break;
      }
      const first = order.sense === 1 ? sample[k] : sample[l];
      const last = order.sense === 1 ? sample[l] : sample[k];
      const count = ((last - first + samples) % samples) + 1;
      const width = length(x[l] - x[k], y[l] - y[k]);
      out[s] = { first, count, x: sx / n + sensor[0], y: sy / n + sensor[1], width };
    }
    return out;
  }

  #reserve(pieces: number): void {
    if (pieces <= this.ofPiece.length) return;
    const room = Math.max(64, 2 * pieces);
    this.ofPiece = new Int32Array(room);
    this.isLone = new Uint8Array(room);
    this.firstPiece = new Int32Array(room);
    this.lastPiece = new Int32Array(room);
  }
}

function liesBetween(order: EchoOrder, pieces: PieceSplitter, p: number): boolean {
  const k = pieces.first[p];
  const { x, y, v, count } = order;
  if (pieces.last[p] - k !== 1 || count < 3) return false;
  const a = k === 0 ? count - 1 : k - 1;
  const b = k === count - 1 ? 0 : k + 1;
  if (order.gap(a, k) > 2 || order.gap(k, b) > 2) return false;
  const r = length(x[k], y[k]);
  const ra = length(x[a], y[a]);
  const rb = length(x[b], y[b]);
  return (r - ra) * (rb - r) > 0 && Math.abs(rb - ra) > (EDGE * r) / Math.sqrt(v[k]);
}

/** Whether piece q goes on where p ends. */
function touch(order: EchoOrder, pieces: PieceSplitter, lines: LineRows, p: number, q: number): boolean {
  const k = pieces.last[p] - 1;
  const l = pieces.first[q];
  const isNext = l - k === 1 || (l === 0 && k === order.count - 1);
  if (order.gap(k, l) > GAP || (isNext && order.cut[k] === ENDS)) return false;
  if (isNext && order.cut[k] === SEAM) {
    if (lines.count[p] >= 2 && lines.count[q] >= 2 && lines.difference(p, lines, q) < SAME) return true;
  } else if (lines.count[p] >= 3 && lines.count[q] >= 3) return linesMeet(order, pieces, lines, p, q);
  return order.isClose(k, l);
}

/**
 * Whether the lines of p and q meet between p's last and q's first echo, as far as their spread can tell. Lines of one corner
 * change places there; lines of a thing and what it hides do not.
 */
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
  const ek = da * x[k] + db * y[k];
  const el = da * x[l] + db * y[l];
  const spreadK = lines.spread(p, x[k], y[k]) + lines.spread(q, x[k], y[k]);
  const spreadL = lines.spread(p, x[l], y[l]) + lines.spread(q, x[l], y[l]);
  return ek * ek < APART * APART * spreadK || el * el < APART * APART * spreadL;
}

/** Whether echo k's own noise, and what is not known of the line, explain its distance from line p. */
function isOn(order: EchoOrder, lines: LineRows, p: number, k: number): boolean {
  const x = order.x[k];
  const y = order.y[k];
  const e = 1 - lines.a[p] * x - lines.b[p] * y;
  return e * e < ON * ON * (1 / order.v[k] + lines.spread(p, x, y));
}
