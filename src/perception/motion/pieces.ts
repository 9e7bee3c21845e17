import type { FreeSpace } from './freeSpace.js';
import type { Pose, Reference } from './reference.js';
import type { SensorModel, SweepPoints } from './sweepPoints.js';

/** Fewest echoes of a straight piece worth keeping, and its least length, m. */
const ECHOES_MIN = 6;
const LENGTH_MIN = 0.15;
/** Part of the speeds' variance that counts here: most rovers stand when the daemon starts. */
const BENT = 0.05;
/** Standard deviations at which an echo off the chord splits a run. */
const SPLIT = 4;
/** Samples without an explained echo between two echoes of one run, at most. */
const HOLES = 3;

/**
 * Finds straight pieces among the echoes that no line of the reference explains, and adds them to it.
 * Runs are cut where neighbours jump, then split at the echo farthest from the chord while that is too far for its noise.
 * @source Ramer 1972; Douglas & Peucker 1973 (split); weighted least squares line in offset and slope about the chord.
 */
export class PieceFinder {
  #run = new Int32Array(0);
  readonly #stack = new Int32Array(128);

  /**
   * @param points deskewed, owners known.
   * @param pose rover axes at the sweep's middle in the frame of the start.
   * @param p Float64Array[81], covariance of the state: the new pieces' common error.
   */
  extend(
    points: SweepPoints,
    reference: Reference,
    sensor: SensorModel,
    pose: Pose,
    p: Readonly<Float64Array>,
    sweep: number,
    free: FreeSpace,
  ): void {
    if (points.count > this.#run.length) this.#run = new Int32Array(points.index.length);
    const run = this.#run;
    const { count, index, owner, x, y, range, step } = points;
    let n = 0;
    for (let i = 0; i < count; i++) {
      if (owner[i] >= 0) continue;
      if (n > 0) {
        const l = run[n - 1];
        const dx = x[i] - x[l];
        const dy = y[i] - y[l];
        const jump = 0.15 + 8 * step * Math.min(range[i], range[l]);
        if (index[i] - index[l] > HOLES + 1 || dx * dx + dy * dy > jump * jump) {
          if (n >= ECHOES_MIN) this.#split(points, n, reference, sensor, pose, p, sweep, free);
          n = 0;
        }
      }
      run[n++] = i;
    }
    if (n >= ECHOES_MIN) this.#split(points, n, reference, sensor, pose, p, sweep, free);
  }

  #split(
    points: SweepPoints,
    n: number,
    reference: Reference,
    sensor: SensorModel,
    pose: Pose,
    p: Readonly<Float64Array>,
    sweep: number,
    free: FreeSpace,
  ): void {
    const run = this.#run;
    const stack = this.#stack;
    const { x, y, range, variance } = points;
    let depth = 0;
    stack[depth++] = 0;
    stack[depth++] = n - 1;
    while (depth > 0) {
      const last = stack[--depth];
      const first = stack[--depth];
      if (last - first + 1 < ECHOES_MIN) continue;
      const a = run[first];
      const b = run[last];
      const dx = x[b] - x[a];
      const dy = y[b] - y[a];
      const length = Math.hypot(dx, dy);
      if (length < LENGTH_MIN) continue;
      const nx = -dy / length;
      const ny = dx / length;
      const d = nx * x[a] + ny * y[a];
      const h = Math.abs(nx * sensor.x + ny * sensor.y - d);
      let worst = SPLIT * SPLIT;
      let at = -1;
      for (let k = first + 1; k < last; k++) {
        const i = run[k];
        const e = nx * x[i] + ny * y[i] - d;
        const cc = Math.min(1, (h * h) / (range[i] * range[i]));
        const off = (e * e) / (variance[i] * Math.max(cc, 0.02) + 9e-6);
        if (off > worst) {
          worst = off;
          at = k;
        }
      }
      if (at < 0) this.#add(points, first, last, nx, ny, reference, sensor, pose, p, sweep, free);
      else if (depth + 4 <= stack.length) {
        stack[depth++] = first;
        stack[depth++] = at;
        stack[depth++] = at;
        stack[depth++] = last;
      }
    }
  }

  #add(
    points: SweepPoints,
    from: number,
    to: number,
    nx0: number,
    ny0: number,
    reference: Reference,
    sensor: SensorModel,
    pose: Pose,
    p: Readonly<Float64Array>,
    sweep: number,
    free: FreeSpace,
  ): void {
    const run = this.#run;
    const { x, y, u, variance, base, grade, owner } = points;
    const trim = to - from + 1 >= ECHOES_MIN + 4 ? 1 : 0; // the outermost echoes may straddle an edge
    const first = from + trim;
    const last = to - trim;
    const n = last - first + 1;
    let nx = nx0;
    let ny = ny0;
    let cx = 0;
    let cy = 0;
    for (let k = first; k <= last; k++) {
      cx += x[run[k]];
      cy += y[run[k]];
    }
    cx /= n;
    cy /= n;
    let w0 = 0;
    let w1 = 0;
    let w2 = 0;
    let chi = 0;
    for (let round = 0; round < 2; round++) {
      const h = nx * (sensor.x - cx) + ny * (sensor.y - cy);
      let r0 = 0;
      let r1 = 0;
      w0 = 0;
      w1 = 0;
      w2 = 0;
      chi = 0;
      for (let k = first; k <= last; k++) {
        const i = run[k];
        const dx = x[i] - cx;
        const dy = y[i] - cy;
        const e = nx * dx + ny * dy;
        const s = nx * dy - ny * dx;
        const w = 1 / (base[i] + grade[i] * h * h);
        w0 += w;
        w1 += w * s;
        w2 += w * s * s;
        r0 += w * e;
        r1 += w * e * s;
        chi += w * e * e;
      }
      const det = w0 * w2 - w1 * w1;
      if (!(det > 0)) return;
      const offset = (w2 * r0 - w1 * r1) / det;
      const slope = (w0 * r1 - w1 * r0) / det;
      chi -= offset * r0 + slope * r1;
      cx += nx * offset;
      cy += ny * offset;
      const mx = nx + slope * ny;
      const my = ny - slope * nx;
      const l = 1 / Math.hypot(mx, my);
      nx = mx * l;
      ny = my * l;
    }
    if (chi > 2.5 * n) return;
    let lo = Infinity;
    let hi = -Infinity;
    if (nx * (sensor.x - cx) + ny * (sensor.y - cy) < 0) {
      nx = -nx;
      ny = -ny;
      w1 = -w1;
    }
    for (let k = first; k <= last; k++) {
      const s = nx * (y[run[k]] - cy) - ny * (x[run[k]] - cx);
      if (s < lo) lo = s;
      if (s > hi) hi = s;
    }
    // The pose's error comes on top: information = (W⁻¹ + P)⁻¹ in offset and slope.
    const a = nx * cy - ny * cx;
    const det = w0 * w2 - w1 * w1;
    // Where the speeds are not known yet, neither is how the sweep is bent: pose error at the piece's own time, from the middle.
    let uu = 0;
    for (let q = first; q <= last; q++) uu += u[run[q]];
    uu = BENT * (uu / n) ** 2;
    const xx = p[0] + uu * p[30];
    const xy = p[1] + uu * p[31];
    const yy = p[10] + uu * p[40];
    const xt = p[2] + uu * p[32];
    const yt = p[11] + uu * p[41];
    const tt = p[20] + uu * p[50];
    const voo = w2 / det + nx * nx * xx + 2 * nx * ny * xy + ny * ny * yy - 2 * a * (nx * xt + ny * yt) + a * a * tt;
    const vos = -w1 / det - (nx * xt + ny * yt) + a * tt;
    const vss = w0 / det + tt;
    const vd = 1 / (voo * vss - vos * vos);
    const c = Math.cos(pose.heading);
    const s = Math.sin(pose.heading);
    if (hi - lo < 1.2) {
      // what stands where free space was seen has come there: not part of the reference
      let seen = 0;
      for (const k of [first, (first + last) >> 1, last]) {
        const i = run[k];
        if (
          free.freeShare(
            pose.x + c * x[i] - s * y[i],
            pose.y + s * x[i] + c * y[i],
            Math.sqrt(variance[i]),
            points.middle,
          ) > 0.4
        )
          seen++;
      }
      if (seen >= 2) return;
    }
    const j = reference.add(
      c * nx - s * ny,
      s * nx + c * ny,
      pose.x + c * cx - s * cy,
      pose.y + s * cx + c * cy,
      lo,
      hi,
      vss * vd,
      -vos * vd,
      voo * vd,
      sweep,
    );
    for (let k = first; k <= last; k++) owner[run[k]] = j;
    reference.absorb(j);
  }
}
