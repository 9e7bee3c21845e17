import { TAU, turnAngle } from '../../core/angles.js';
import type { NoiseModel } from '../../estimate/noise.js';
import { MOMENTS, runMoments } from '../../geometry/beamLine.js';
import { breakDistance } from '../../geometry/breakDistance.js';
import { length } from '../../geometry/length.js';
import { SAMPLE_KIND } from '../../sweep/echoBatch.js';
import type { ShapeFrame } from './frame.js';

/** Samples without echo in a row that a surface is still followed across. */
const BRIDGE = 3;
/** Least angle between beam and surface at which echoes too few for a line still count as one surface: 18 degrees. */
const SIN_STEEP = Math.sin(Math.PI / 10);
const COS_STEEP = Math.cos(Math.PI / 10);
/** Standard deviations by which neither side may reach the other before two neighbours are cut apart at sight. */
const CUT = 5;
/** tan of the incidence up to which two neighbours, their noise apart, are never cut at sight. */
const GENTLE = 1.5;
/** In `cut`: the surface ends; the sweep begins here and the rover's turn left a gap or an overlap. */
export const ENDS = 1;
export const SEAM = 2;
/** Echoes from the beginning that stand again behind the last: the ring goes on. */
const RING = 3;

/**
 * The sweep's echoes as columns in counter-clockwise order, begun at the greatest jump, with running moments, and cut where a look at
 * two echoes on either side is enough to see that the surface ends.
 */
export class EchoOrder {
  count = 0;
  /** Samples a turn, echoes or not; more than the sweep has where it does not go all round. */
  samples = 0;
  x = new Float64Array(0);
  y = new Float64Array(0);
  /** r² / sigma²: the weight of one echo in a line fit. */
  v = new Float64Array(0);
  /** The echo's sample in the frame. */
  sample = new Int32Array(0);
  /** ENDS, SEAM or 0, between echo k and the next (the last one's next is the first). */
  cut = new Uint8Array(0);
  /** Running moments, see geometry/beamLine.ts. */
  sums = new Float64Array(0);
  sense: 1 | -1 = 1;
  /** Samples of the sweep. */
  length = 0;
  #rr = new Float64Array(0);
  #sigma2 = new Float64Array(0);

  #reserve(samples: number): void {
    if (samples <= this.#rr.length - RING) return;
    const room = Math.max(512, samples) + RING;
    this.x = new Float64Array(room);
    this.y = new Float64Array(room);
    this.v = new Float64Array(room);
    this.sample = new Int32Array(room);
    this.cut = new Uint8Array(room);
    this.sums = new Float64Array((room + 1) * MOMENTS);
    this.#rr = new Float64Array(room);
    this.#sigma2 = new Float64Array(room);
  }

  /** @cost four short passes; memory grows to the longest sweep. */
  set(frame: ShapeFrame, noise: NoiseModel): void {
    this.#reserve(frame.count);
    this.sense = frame.sense;
    this.length = frame.count;
    this.samples = samplesPerTurn(frame);
    this.#gather(frame, noise);
    runMoments(this.x, this.y, this.v, this.count, this.sums);
    if (this.count >= 4) this.#look();
    else for (let k = 0; k < this.count; k++) this.cut[k] = this.#goesOn(k) ? 0 : ENDS;
  }

  /** Whether echoes k and l lie so close that noise and an incidence no steeper than STEEP explain the step between them. */
  isClose(k: number, l: number): boolean {
    const { x, y, v } = this;
    const kk = x[k] * x[k] + y[k] * y[k];
    const ll = x[l] * x[l] + y[l] * y[l];
    const scale = 1 / Math.sqrt(kk * ll);
    const sinTurn = Math.abs(x[k] * y[l] - x[l] * y[k]) * scale;
    const cosTurn = (x[k] * x[l] + y[k] * y[l]) * scale;
    const near = Math.sqrt(Math.min(kk, ll));
    const sigma = Math.sqrt(kk / v[k] + ll / v[l]);
    return length(x[l] - x[k], y[l] - y[k]) < breakDistance(near, sinTurn, cosTurn, SIN_STEEP, COS_STEEP, sigma);
  }

  /** Samples from echo k to echo l, the short way round. */
  gap(k: number, l: number): number {
    const gap = Math.abs(this.sample[l] - this.sample[k]);
    return gap > this.samples / 2 ? this.samples - gap : gap;
  }

  /** Counter-clockwise from the greatest jump of range: a place that does not depend on where the sweep began. */
  #gather(frame: ShapeFrame, noise: NoiseModel): void {
    const { count, kind, x, y, sense } = frame;
    const X = this.x;
    const Y = this.y;
    const V = this.v;
    const RR = this.#rr;
    const E = this.#sigma2;
    const S = this.sample;
    const echo = SAMPLE_KIND.echo;
    const c2 = noise.constant * noise.constant;
    const g2 = noise.growth * noise.growth;
    let m = 0;
    for (let n = 0, i = greatestJump(frame); n < count; n++, i += sense) {
      if (i === count) i = 0;
      else if (i < 0) i = count - 1;
      if (kind[i] !== echo) continue;
      const xi = x[i];
      const yi = y[i];
      const rr = xi * xi + yi * yi;
      const sigma2 = c2 + g2 * rr * rr;
      X[m] = xi;
      Y[m] = yi;
      RR[m] = rr;
      E[m] = sigma2;
      V[m] = rr / sigma2;
      S[m++] = i;
    }
    this.count = m;
  }

  /** Cuts between neighbours where neither side, prolonged by its two nearest echoes, reaches the other. */
  #look(): void {
    const m = this.count;
    const { sense, x, y, v, cut } = this;
    const RR = this.#rr;
    const E = this.#sigma2;
    const S = this.sample;
    for (let k = 0; k < RING; k++) {
      x[m + k] = x[k];
      y[m + k] = y[k];
      v[m + k] = v[k];
      RR[m + k] = RR[k];
      E[m + k] = E[k];
      S[m + k] = S[k];
    }
    for (let k = 1; k <= m; k++) {
      const bb = RR[k];
      const cc = RR[k + 1];
      const step = bb - cc; // (far - near)(far + near), and (far + near)² is at least 4 near²
      const near = Math.min(bb, cc);
      const isNoise = S[k + 1] - S[k] === sense && step * step < 36 * near * (E[k] + E[k + 1]);
      cut[k === m ? 0 : k] = isNoise ? 0 : this.#cutAfter(k);
    }
  }

  /** Whether echo k of too few to look at four of them lies close to the next. */
  #goesOn(k: number): boolean {
    return k + 1 < this.count && this.gap(k, k + 1) <= BRIDGE + 1 && this.isClose(k, k + 1);
  }

  /** a, b, c, d: two echoes on either side of the gap from b = k to c. */
  #cutAfter(k: number): number {
    const X = this.x;
    const Y = this.y;
    const V = this.v;
    const { samples } = this;
    let gap = this.sample[k + 1] - this.sample[k];
    const isSeam = gap * this.sense < 0;
    if (gap < 0) gap = -gap;
    if (gap > samples / 2) gap = samples - gap;
    if (gap > BRIDGE + 1) return ENDS;
    const bc = X[k] * Y[k + 1] - X[k + 1] * Y[k];
    const rb = Math.sqrt(this.#rr[k]);
    const rc = Math.sqrt(this.#rr[k + 1]);
    if (isSeam && (bc <= 0 || bc > rb * rc * (gap + 0.5) * (TAU / samples))) return SEAM;
    const arc = (bc > 0 ? bc : -bc) / Math.max(rb, rc);
    if (Math.abs(rb - rc) < GENTLE * arc + 3 * Math.sqrt(this.#sigma2[k] + this.#sigma2[k + 1])) return 0;
    const ab = X[k - 1] * Y[k] - X[k] * Y[k - 1];
    const cd = X[k + 1] * Y[k + 2] - X[k + 2] * Y[k + 1];
    if (ab <= 0 || bc <= 0 || cd <= 0) return ENDS;
    const ac = X[k - 1] * Y[k + 1] - X[k + 1] * Y[k - 1];
    const bd = X[k] * Y[k + 2] - X[k + 2] * Y[k];
    const left = (ab + bc - ac) / ab; // how far c falls short of the line a-b, in parts of its range
    const right = (bc + cd - bd) / cd; // and b of the line c-d
    if (left * right >= 0) return 0;
    const ka = bc / ab;
    const kb = ac / ab;
    const kc = bd / cd;
    const kd = bc / cd;
    const spreadL = 1 / V[k + 1] + (kb * kb) / V[k] + (ka * ka) / V[k - 1];
    const spreadR = 1 / V[k] + (kc * kc) / V[k + 1] + (kd * kd) / V[k + 2];
    return left * left > CUT * CUT * spreadL && right * right > CUT * CUT * spreadR ? ENDS : 0;
  }
}

/** The sample, counter-clockwise, before which the range of the echoes jumps most. */
function greatestJump(frame: ShapeFrame): number {
  const { count, kind, range, sense } = frame;
  const echo = SAMPLE_KIND.echo;
  let best = -1;
  let at = sense === 1 ? 0 : count - 1;
  let before = NaN;
  for (let i = count - 1; i >= 0 && Number.isNaN(before); i--) if (kind[i] === echo) before = range[i];
  for (let i = 0, last = count - 1; i < count; i++) {
    if (kind[i] !== echo) continue;
    const jump = Math.abs(range[i] - before);
    if (jump > best) {
      best = jump;
      at = sense === 1 ? i : last;
    }
    before = range[i];
    last = i;
  }
  return at;
}

function samplesPerTurn(frame: ShapeFrame): number {
  const { bearing, count, sense } = frame;
  if (count < 2) return 1;
  const turned = turnAngle((bearing[count - 1] - bearing[0]) * sense);
  return turned > 1e-6 ? Math.max(count, Math.round((TAU * (count - 1)) / turned)) : count;
}
