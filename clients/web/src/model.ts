import type {
  Clearance,
  Health,
  Hello,
  Motion,
  Movers,
  Point,
  Shapes,
  Stamps,
  Sweep,
} from '../../typescript/src/client.js';
import { type Pose, radiusAt } from './geometry.js';
import { Trails } from './trails.js';

/** Straight pieces that draw a sector's arc. */
export const PIECES = 4;
const PATH_STEP = 0.1; // m between kept points of the path
const PATH_POINTS = 600; // 60 m
const JUMP = 1; // m between two sweeps: no rover does that, its estimate began anew

/** What a sensor and its mounting are, as far as echoes need it. */
export interface Mounting {
  readonly xM: number;
  readonly yM: number;
}

/** Everything the plan draws, as newest told: live or from a run, the same. Rover axes; `pose` places them in the world. */
export class Model {
  hello: Hello | undefined;
  clearance: Clearance | undefined;
  health: Health | undefined;
  shapes: Shapes | undefined;
  movers: Movers | undefined;
  motion: Motion | undefined;
  sweep: Sweep | undefined;
  sweepStamps: Stamps | undefined;
  clearanceStamps: Stamps | undefined;
  outline: readonly Point[] = [];
  mounting: Mounting = { xM: 0, yM: 0 };
  readonly pose: Pose = { x: 0, y: 0, heading: 0 };
  /** m since the page began to watch. */
  driven = 0;
  /** World x, y of where the rover was; `pathCount` of them, oldest first from `pathFirst`, in a ring. */
  readonly path = new Float64Array(2 * PATH_POINTS);
  pathCount = 0;
  pathFirst = 0;
  /** Rover axes x, y of the last sweep's echoes, moved to where the rover was at its end. */
  echoes = new Float32Array(2 * 2048);
  echoCount = 0;
  readonly trails = new Trails();
  /** Rover axes x, y of the edge of each sector's leeway, PIECES + 1 points each; and of the outline at the same bearings. */
  edge = new Float32Array(0);
  inner = new Float32Array(0);
  #innerOf: readonly Point[] | undefined;

  takeHello(hello: Hello): void {
    this.hello = hello;
    this.outline = hello.outlineM;
  }

  takeClearance(clearance: Clearance, stamps: Stamps): void {
    this.clearance = clearance;
    this.clearanceStamps = stamps;
    this.#placeEdge(clearance);
  }

  takeMotion(motion: Motion): void {
    this.motion = motion;
    const { pose } = this;
    const step = Math.hypot(motion.xM - pose.x, motion.yM - pose.y);
    if (step > JUMP) this.forgetWay();
    else this.driven += step > 0.002 ? step : 0; // below that the estimate only trembles
    pose.x = motion.xM;
    pose.y = motion.yM;
    pose.heading = motion.headingRad;
    this.#addToPath();
  }

  takeMovers(movers: Movers, stamps: Stamps): void {
    this.movers = movers;
    this.trails.take(movers, stamps.timeS, this.pose);
  }

  takeSweep(sweep: Sweep, stamps: Stamps): void {
    this.sweep = sweep;
    this.sweepStamps = stamps;
    this.#placeEchoes(sweep);
  }

  /** Drops what the rover was seen doing: its estimate of where it is began anew. */
  forgetWay(): void {
    this.pathCount = 0;
    this.driven = 0;
    this.trails.clear();
  }

  /** Nothing of now is known any more; where things stood stays, to be drawn as such. */
  forgetNow(): void {
    this.clearance = undefined;
    this.movers = undefined;
    this.echoCount = 0;
    this.sweep = undefined;
    this.trails.clear();
  }

  /** @returns m, how far the rover can go straight on; 0 where nothing says so. */
  get ahead(): number {
    return this.health?.state === 'blind' ? 0 : (this.clearance?.aheadM ?? 0);
  }

  #addToPath(): void {
    const { path, pose } = this;
    if (this.pathCount > 0) {
      const last = (this.pathFirst + this.pathCount - 1) % PATH_POINTS;
      if (Math.hypot(pose.x - path[2 * last], pose.y - path[2 * last + 1]) < PATH_STEP) return;
    }
    const next = (this.pathFirst + this.pathCount) % PATH_POINTS;
    path[2 * next] = pose.x;
    path[2 * next + 1] = pose.y;
    if (this.pathCount < PATH_POINTS) this.pathCount++;
    else this.pathFirst = (this.pathFirst + 1) % PATH_POINTS;
  }

  /** A sample was taken while the rover moved on: it stands where the rover's axes at the sweep's end see it. */
  #placeEchoes(sweep: Sweep): void {
    const { bearingRad, rangeMm, periodS } = sweep;
    const count = bearingRad.length;
    if (this.echoes.length < 2 * count) this.echoes = new Float32Array(4 * count);
    const { vxMps = 0, vyMps = 0, turnRadps = 0 } = this.motion ?? {};
    const { xM, yM } = this.mounting;
    const { echoes } = this;
    let placed = 0;
    for (let i = 0; i < count; i++) {
      if (rangeMm[i] === 0) continue;
      const ago = periodS * (1 - i / count);
      const turn = -turnRadps * ago;
      const x = (rangeMm[i] / 1000) * Math.cos(bearingRad[i]) + xM;
      const y = (rangeMm[i] / 1000) * Math.sin(bearingRad[i]) + yM;
      echoes[2 * placed] = x - turn * y - vxMps * ago;
      echoes[2 * placed + 1] = y + turn * x - vyMps * ago;
      placed++;
    }
    this.echoCount = placed;
  }

  #placeEdge(clearance: Clearance): void {
    const { outline } = this;
    const count = clearance.state.length;
    const points = count * (PIECES + 1);
    if (this.edge.length !== 2 * points) {
      this.edge = new Float32Array(2 * points);
      this.inner = new Float32Array(2 * points);
      this.#innerOf = undefined;
    }
    if (outline.length < 3) return;
    const isInnerNew = this.#innerOf !== outline;
    this.#innerOf = outline;
    for (let k = 0; k < count; k++) {
      const leeway = clearance.state[k] === 'unknown' ? 0 : (clearance.leewayM[k] ?? 0);
      for (let i = 0; i <= PIECES; i++) {
        const bearing = clearance.firstBearingRad + ((k + i / PIECES) / count) * 2 * Math.PI;
        const at = 2 * (k * (PIECES + 1) + i);
        put(this.edge, at, radiusAt(outline, bearing, leeway), bearing);
        if (isInnerNew) put(this.inner, at, radiusAt(outline, bearing, 0), bearing);
      }
    }
  }
}

function put(column: Float32Array, at: number, radius: number, bearing: number): void {
  column[at] = radius * Math.cos(bearing);
  column[at + 1] = radius * Math.sin(bearing);
}
