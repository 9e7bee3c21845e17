import { spanChi } from '../../geometry/beamLine.js';
import { type Circle, fitCircle } from '../../geometry/fitCircle.js';
import { length } from '../../geometry/length.js';
import type { EchoOrder } from './echoOrder.js';
import type { LineRows } from './lineRows.js';
import type { PieceSplitter } from './pieceSplitter.js';
import type { SegmentFinder } from './segments.js';

/** chi² that a line more (2 parameters and its break) must gain to be believed beside a circle. */
const LINE_PRICE = 8;
/** m, radius below which the beam's width blurs the rim, and what a line must gain there. */
const SMALL = 0.25;
const SMALL_PRICE = 16;
/** Standard deviations of chi² up to which a circle fits. */
const FITS = 3;

/** chi² by which one line must be worse than the circle. */
const BENT = 16;
/** Echoes of a piece that can be told to be off a circle; fewer are passed over. */
const EXTENDS = 3;
/** A turn that noise hides. */
const EITHER = 2;
/** Mean square of a parabola's residual about its best line, in parts of its sagitta squared. */
const BOW = 4 / 45;
/** chi² of a bow that no straight piece would have been left with. */
const SEEN = 50;

/** Curved surfaces: neighbouring pieces that one circle explains better than their lines do. */
export class ArcFinder {
  /** [pieces], 1: part of a curved surface. */
  isCurved = new Uint8Array(0);
  readonly #circle: Circle = { x: 0, y: 0, radius: 0, varX: 0, varY: 0, varRadius: 0, chi: 0 };

  find(order: EchoOrder, pieces: PieceSplitter, lines: LineRows, segments: SegmentFinder): void {
    if (this.isCurved.length < pieces.count) this.isCurved = new Uint8Array(2 * pieces.count);
    this.isCurved.fill(0, 0, pieces.count);
    for (let p = 0; p + 1 < pieces.count; ) {
      let turn = turnAfter(order, pieces, lines, segments, p);
      let q = p + 1;
      if (turn !== 0) {
        for (; q + 1 < pieces.count; q++) {
          const next = turnAfter(order, pieces, lines, segments, q);
          if (next === 0 || next * turn === -1) break;
          if (turn === EITHER) turn = next;
        }
        this.#search(order, pieces, lines, segments, p, q);
      }
      p = q;
    }
  }

  /** Marks the longest stretches of pieces p .. q that are one circle. */
  #search(
    order: EchoOrder,
    pieces: PieceSplitter,
    lines: LineRows,
    segments: SegmentFinder,
    p: number,
    q: number,
  ): void {
    for (let from = p; from < q; from++) {
      for (let to = q; to > from; to--) {
        if (!this.#isArc(order, pieces, lines, from, to)) continue;
        this.isCurved.fill(1, from, to + 1);
        this.#extend(order, pieces, segments, from, -1);
        this.#extend(order, pieces, segments, to, 1);
        from = to;
        break;
      }
    }
  }

  /** Follows the circle just found over its neighbours: a stray echo may have parted them, or noise hidden their turn. */
  #extend(order: EchoOrder, pieces: PieceSplitter, segments: SegmentFinder, p: number, way: 1 | -1): void {
    const { x, y, v } = order;
    const circle = this.#circle;
    for (let q = p + way; q >= 0 && q < pieces.count && this.isCurved[q] === 0; q += way) {
      if (segments.ofPiece[q] !== segments.ofPiece[p] && segments.isLone[q] === 0) return;
      let chi = 0;
      for (let k = pieces.first[q]; k < pieces.last[q]; k++) {
        const gx = x[k] - circle.x;
        const gy = y[k] - circle.y;
        const off = length(gx, gy) - circle.radius;
        const along = (gx * x[k] + gy * y[k]) / (off + circle.radius); // range times the cosine of the incidence
        chi += (off * off * v[k]) / (along * along);
      }
      const n = pieces.last[q] - pieces.first[q];
      if (n >= EXTENDS && chi > n + FITS * Math.sqrt(2 * n)) return;
      if (n >= EXTENDS) this.isCurved[q] = 1;
    }
  }

  #isArc(order: EchoOrder, pieces: PieceSplitter, lines: LineRows, p: number, q: number): boolean {
    const a = pieces.first[p];
    const b = pieces.last[q];
    if (b - a < 5) return false;
    const dof = b - a - 3;
    const most = 4 * (dof + FITS * Math.sqrt(2 * dof) + 4); // the first rounds are rougher than the last
    if (!fitCircle(order.x, order.y, order.v, a, b, this.#circle, most)) return false;
    const { chi } = this.#circle;
    if (spanChi(order.sums, a, b) < chi + BENT) return false;
    let straight = 0;
    for (let i = p; i <= q; i++) straight += lines.chi(i);
    if (chi > dof + FITS * Math.sqrt(2 * dof) + 4) return false;
    return chi < straight + (q - p) * (this.#circle.radius < SMALL ? SMALL_PRICE : LINE_PRICE);
  }
}

/**
 * Sense in which the surface turns from piece p to the next, 1 or -1; EITHER where noise hides it; 0 where the two are not one
 * surface, too short to tell, or too straight for so sharp a turn.
 */
function turnAfter(
  order: EchoOrder,
  pieces: PieceSplitter,
  lines: LineRows,
  segments: SegmentFinder,
  p: number,
): number {
  if (pieces.last[p] !== pieces.first[p + 1] || segments.ofPiece[p] !== segments.ofPiece[p + 1]) return 0;
  if (lines.count[p] < 2 || lines.count[p + 1] < 2) return 0;
  const cross = lines.a[p] * lines.b[p + 1] - lines.a[p + 1] * lines.b[p];
  const dot = lines.a[p] * lines.a[p + 1] + lines.b[p] * lines.b[p + 1];
  if (dot < 0) return 0;
  const angle = Math.abs(cross) / length(cross, dot);
  const doubt = 2 * Math.sqrt(lines.normalVar(p) + lines.normalVar(p + 1));
  const least = angle > doubt ? angle - doubt : 0;
  if (isStraighter(order, pieces, p, least) || isStraighter(order, pieces, p + 1, least)) return 0;
  return least === 0 ? EITHER : Math.sign(cross);
}

/** Whether piece p is too straight to be part of a circle that turns by `angle` within a piece's length. */
function isStraighter(order: EchoOrder, pieces: PieceSplitter, p: number, angle: number): boolean {
  const { x, y, v } = order;
  const k = pieces.first[p];
  const l = pieces.last[p] - 1;
  const dx = x[l] - x[k];
  const dy = y[l] - y[k];
  const m = (k + l) >> 1;
  const sag2 = ((dx * dx + dy * dy) * angle * angle) / 64; // half of chord · turn / 4: neighbours may differ in length
  return (l - k + 1) * BOW * sag2 * v[m] > SEEN * (x[m] * x[m] + y[m] * y[m]);
}
