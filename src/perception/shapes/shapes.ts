import { DEFAULT_NOISE, type NoiseModel } from '../../estimate/noise.js';
import { ArcFinder } from './arcs.js';
import { CornerFinder } from './corners.js';
import { EchoOrder } from './echoOrder.js';
import type { ShapeFrame } from './frame.js';
import { LineRows } from './lineRows.js';
import { PieceSplitter } from './pieceSplitter.js';
import { SegmentFinder } from './segments.js';
import { WallFinder } from './walls.js';

export class ShapeFinder {
  readonly order: EchoOrder;
  readonly pieces: PieceSplitter;
  readonly lines: LineRows;
  readonly segments: SegmentFinder;
  readonly walls: WallFinder;
  readonly corners: CornerFinder;
  readonly arcs: ArcFinder;
  readonly noise: NoiseModel;
  constructor(capacity = 4096, noise: NoiseModel = DEFAULT_NOISE) {
    this.noise = noise;
    this.order = new EchoOrder(capacity);
    this.pieces = new PieceSplitter(capacity);
    this.lines = new LineRows(capacity);
    this.segments = new SegmentFinder(capacity);
    this.walls = new WallFinder(capacity);
    this.arcs = new ArcFinder(capacity);
    this.corners = new CornerFinder(capacity);
  }
  seg(frame: ShapeFrame): void {
    this.order.set(frame, this.noise);
    this.pieces.split(this.order);
    for (let p = 0; p < this.pieces.count; p++) this.lines.setSpan(p, this.order.sums, this.pieces.first[p], this.pieces.last[p]);
    this.segments.find(this.order, this.pieces, this.lines);
  }
  find(_frame: ShapeFrame): void {
    this.arcs.find(this.order, this.pieces, this.lines, this.segments);
    this.walls.find(this.order, this.pieces, this.lines, this.arcs);
    this.corners.find(this.order, this.pieces, this.walls, this.segments);
  }
}

const CHI = Number(process.env.CHI ?? 4);
const SDA = Number(process.env.SDA ?? 3.5) / 57.3;
const SDR = Number(process.env.SDR ?? 0.09);
export function neutral(f: ShapeFinder, frame: ShapeFrame, t: number, us1: number, us2: number): unknown {
  const { order, pieces, segments, walls } = f;
  const labels = new Array<number>(frame.count).fill(-1);
  for (let p = 0; p < pieces.count; p++)
    for (let k = pieces.first[p]; k < pieces.last[p]; k++) labels[order.sample[k]] = segments.ofPiece[p];
  const lines: unknown[] = [];
  for (let w = 0; w < walls.count; w++) {
    const R = walls.rows;
    const a = R.a[w];
    const b = R.b[w];
    const rho2 = a * a + b * b;
    const rho = Math.sqrt(rho2);
    const ra = -a / (rho2 * rho);
    const rb = -b / (rho2 * rho);
    const aa = -b / rho2;
    const ab = a / rho2;
    const q = (u1: number, u2: number, w1: number, w2: number): number => u1 * w1 * R.vaa[w] + (u1 * w2 + u2 * w1) * R.vab[w] + u2 * w2 * R.vbb[w];
    const k = pieces.first[walls.firstPiece[w]];
    const l = pieces.last[walls.lastPiece[w]] - 1;
    const end = (i: number): [number, number] => {
      const s = 1 / (a * order.x[i] + b * order.y[i]);
      return [order.x[i] * s, order.y[i] * s];
    };
    const [x1, y1] = end(k);
    const [x2, y2] = end(l);
    const len = Math.hypot(x2 - x1, y2 - y1);
    if (R.count[w] < 6 || len < 0.25) continue;
    const va = q(aa, ab, aa, ab);
    const vr = q(ra, rb, ra, rb);
    const dof = R.count[w] - 2;
    if (R.chi(w) > dof + CHI * Math.sqrt(2 * dof)) continue;
    if (va > SDA * SDA || vr > SDR * SDR) continue;
    const hits: number[] = [];
    for (let p = 0; p < pieces.count; p++) if (walls.ofPiece[p] === w) for (let i = pieces.first[p]; i < pieces.last[p]; i++) hits.push(order.sample[i]);
    lines.push({ w, n: R.count[w], chi: R.chi(w), hits, a: Math.atan2(b, a), r: 1 / rho, x1, y1, x2, y2, cov: [q(ra, rb, ra, rb), q(ra, rb, aa, ab), q(aa, ab, aa, ab)] });
  }
  return { t, us: us1 + us2, stages: { seg: us1, lines: us2 }, labels, lines, corners: Array.from({ length: f.corners.count }, (_, i) => [f.corners.x[i], f.corners.y[i]]) };
}
