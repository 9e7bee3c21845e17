import { MOMENTS } from '../../geometry/beamLine.js';

/**
 * Lines a·x + b·y = 1 with their information: the second moments of their echoes. Rows are added to, so that pieces make walls.
 */
export class LineRows {
  readonly count: Int32Array;
  readonly sx: Float64Array;
  readonly sy: Float64Array;
  readonly xx: Float64Array;
  readonly xy: Float64Array;
  readonly yy: Float64Array;
  /** Σv: with the fit it gives chi². */
  readonly sv: Float64Array;
  readonly a: Float64Array;
  readonly b: Float64Array;
  /** Covariance of (a, b): the inverse of the second moments. */
  readonly vaa: Float64Array;
  readonly vab: Float64Array;
  readonly vbb: Float64Array;

  constructor(capacity: number) {
    this.count = new Int32Array(capacity);
    this.sx = new Float64Array(capacity);
    this.sy = new Float64Array(capacity);
    this.xx = new Float64Array(capacity);
    this.xy = new Float64Array(capacity);
    this.yy = new Float64Array(capacity);
    this.sv = new Float64Array(capacity);
    this.a = new Float64Array(capacity);
    this.b = new Float64Array(capacity);
    this.vaa = new Float64Array(capacity);
    this.vab = new Float64Array(capacity);
    this.vbb = new Float64Array(capacity);
  }

  /** Row `row` becomes the line of echoes first .. last - 1. */
  setSpan(row: number, sums: Float64Array, first: number, last: number): void {
    const f = first * MOMENTS;
    const l = last * MOMENTS;
    this.count[row] = last - first;
    this.sv[row] = sums[l] - sums[f];
    this.sx[row] = sums[l + 1] - sums[f + 1];
    this.sy[row] = sums[l + 2] - sums[f + 2];
    this.xx[row] = sums[l + 3] - sums[f + 3];
    this.xy[row] = sums[l + 4] - sums[f + 4];
    this.yy[row] = sums[l + 5] - sums[f + 5];
    this.#solve(row);
  }

  /** Row `row` takes in the echoes of row `other` of `rows`. */
  add(row: number, rows: LineRows, other: number): void {
    this.count[row] += rows.count[other];
    this.sv[row] += rows.sv[other];
    this.sx[row] += rows.sx[other];
    this.sy[row] += rows.sy[other];
    this.xx[row] += rows.xx[other];
    this.xy[row] += rows.xy[other];
    this.yy[row] += rows.yy[other];
    this.#solve(row);
  }

  /** chi² of row `row`'s echoes about their line. */
  chi(row: number): number {
    return Math.max(0, this.sv[row] - this.a[row] * this.sx[row] - this.b[row] * this.sy[row]);
  }

  /** chi², 2 degrees of freedom, of the two lines being one; 0 where either has fewer than 2 echoes. */
  difference(row: number, rows: LineRows, other: number): number {
    const da = this.a[row] - rows.a[other];
    const db = this.b[row] - rows.b[other];
    const aa = this.vaa[row] + rows.vaa[other];
    const ab = this.vab[row] + rows.vab[other];
    const bb = this.vbb[row] + rows.vbb[other];
    return (bb * da * da - 2 * ab * da * db + aa * db * db) / (aa * bb - ab * ab);
  }

  #solve(row: number): void {
    const { xx, xy, yy, sx, sy } = this;
    const det = xx[row] * yy[row] - xy[row] * xy[row];
    if (this.count[row] < 2 || !(det > 0)) {
      this.a[row] = 0;
      this.b[row] = 0;
      this.vaa[row] = Infinity;
      this.vab[row] = 0;
      this.vbb[row] = Infinity;
      return;
    }
    this.vaa[row] = yy[row] / det;
    this.vab[row] = -xy[row] / det;
    this.vbb[row] = xx[row] / det;
    this.a[row] = sx[row] * this.vaa[row] + sy[row] * this.vab[row];
    this.b[row] = sx[row] * this.vab[row] + sy[row] * this.vbb[row];
  }
}
