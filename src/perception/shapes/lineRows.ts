import { MOMENTS } from '../../geometry/beamLine.js';

/**
 * Lines a·x + b·y = 1, about the sensor, with their information: the moments of their echoes. Moments add up, so that pieces
 * make walls.
 */
export class LineRows {
  count = new Int32Array(0);
  /** Σv: with the fit it gives chi². */
  sv = new Float64Array(0);
  sx = new Float64Array(0);
  sy = new Float64Array(0);
  xx = new Float64Array(0);
  xy = new Float64Array(0);
  yy = new Float64Array(0);
  a = new Float64Array(0);
  b = new Float64Array(0);
  /** Covariance of (a, b): the inverse of the second moments; Infinity for a lone echo. */
  vaa = new Float64Array(0);
  vab = new Float64Array(0);
  vbb = new Float64Array(0);

  /** Makes room for `rows` rows; what they held is lost where there was less. */
  reserve(rows: number): void {
    if (rows <= this.count.length) return;
    const room = Math.max(64, 2 * rows);
    this.count = new Int32Array(room);
    this.sv = new Float64Array(room);
    this.sx = new Float64Array(room);
    this.sy = new Float64Array(room);
    this.xx = new Float64Array(room);
    this.xy = new Float64Array(room);
    this.yy = new Float64Array(room);
    this.a = new Float64Array(room);
    this.b = new Float64Array(room);
    this.vaa = new Float64Array(room);
    this.vab = new Float64Array(room);
    this.vbb = new Float64Array(room);
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

  /** chi² of row `row`'s echoes about their line, count - 2 degrees of freedom. */
  chi(row: number): number {
    const chi = this.sv[row] - this.a[row] * this.sx[row] - this.b[row] * this.sy[row];
    return Math.max(chi, 0);
  }

  /** chi², 2 degrees of freedom, of the two lines being one. */
  difference(row: number, rows: LineRows, other: number): number {
    const da = this.a[row] - rows.a[other];
    const db = this.b[row] - rows.b[other];
    const aa = this.vaa[row] + rows.vaa[other];
    const ab = this.vab[row] + rows.vab[other];
    const bb = this.vbb[row] + rows.vbb[other];
    return (bb * da * da - 2 * ab * da * db + aa * db * db) / (aa * bb - ab * ab);
  }

  /** Variance of a·x + b·y: what is not known of row `row`'s line at (x, y), in parts of the range squared. */
  spread(row: number, x: number, y: number): number {
    return this.vaa[row] * x * x + 2 * this.vab[row] * x * y + this.vbb[row] * y * y;
  }

  /** rad², of the normal's bearing atan2(b, a). */
  normalVar(row: number): number {
    const a = this.a[row];
    const b = this.b[row];
    const rho = a * a + b * b;
    return this.spread(row, -b, a) / (rho * rho);
  }

  /** m², of the distance 1 / hypot(a, b). */
  distanceVar(row: number): number {
    const a = this.a[row];
    const b = this.b[row];
    const rho = a * a + b * b;
    return this.spread(row, a, b) / (rho * rho * rho);
  }

  /** m rad, of distance and normal. */
  crossCov(row: number): number {
    const a = this.a[row];
    const b = this.b[row];
    const rho = a * a + b * b;
    return (
      (a * b * this.vaa[row] + (b * b - a * a) * this.vab[row] - a * b * this.vbb[row]) / (rho * rho * Math.sqrt(rho))
    );
  }

  #solve(row: number): void {
    const xx = this.xx[row];
    const xy = this.xy[row];
    const yy = this.yy[row];
    const det = xx * yy - xy * xy;
    if (this.count[row] < 2 || !(det > 1e-15 * xx * yy)) {
      this.a[row] = 0;
      this.b[row] = 0;
      this.vaa[row] = Infinity;
      this.vab[row] = 0;
      this.vbb[row] = Infinity;
      return;
    }
    const vaa = yy / det;
    const vab = -xy / det;
    const vbb = xx / det;
    this.vaa[row] = vaa;
    this.vab[row] = vab;
    this.vbb[row] = vbb;
    this.a[row] = this.sx[row] * vaa + this.sy[row] * vab;
    this.b[row] = this.sx[row] * vab + this.sy[row] * vbb;
  }
}
