import type { NoiseModel } from '../../estimate/noise.js';
import type { ServerMessage } from '../../messages/codec.js';
import type { Moment, RunNote } from '../format.js';
import { echoPoints, nearestEcho, type Points } from '../nearest.js';
import { Timeline, type TimelineSetting } from '../timeline.js';
import { WallMap, type WallSeen } from './wallMap.js';
import { WallNoise } from './wallNoise.js';

/** What a report must know of rover and sensor. */
export interface ReportSetting extends TimelineSetting {
  /** What the configuration expects of the sensor. */
  readonly noise: NoiseModel;
}

/** One of the closest approaches: what was around, rover axes, m. */
export interface NearPlan {
  /** s, Clock. */
  readonly at: number;
  readonly distance: number;
  /** The echo that was so near. */
  readonly x: number;
  readonly y: number;
  readonly echoes: ReadonlyArray<readonly [number, number]>;
  readonly movers: ReadonlyArray<Readonly<{ x: number; y: number; width: number }>>;
  /** m and rad, of the rover since its start. */
  readonly pose: Readonly<{ x: number; y: number; heading: number }>;
}

/** All that a report shows. */
export interface ReportData {
  readonly moments: readonly Moment[];
  readonly events: readonly RunNote[];
  readonly driven: number;
  /** m, since the start. */
  readonly path: ReadonlyArray<readonly [number, number]>;
  readonly walls: readonly WallSeen[];
  /** m, middles of the cells of {@link CELL} that held echoes often enough. */
  readonly cells: ReadonlyArray<readonly [number, number]>;
  readonly near: readonly NearPlan[];
  /** m, m: measured standard deviation over the range, and the model that fits it. */
  readonly noise: ReadonlyArray<Readonly<{ range: number; sigma: number }>>;
  readonly learned: NoiseModel | undefined;
  readonly sweeps: number;
  /** m, since the start: what was looked over from places along the path. */
  readonly views: ReadonlyArray<ReadonlyArray<readonly [number, number]>>;
}

export const CELL = 0.06; // m
const CELL_HITS = 3; // sweeps that put an echo there: one alone may be somebody passing
const CELLS_MAX = 30_000; // in the page; the ones hit most
const EVERY = 2; // of the sweeps go into cells and walls
const PATH_STEP = 0.05; // m between points of the path
const BUCKET = 5; // s: the closest of each is kept
const NEAR_APART = 8; // s between two approaches that are shown
const NEAR_MAX = 6;
const NEAR_REACH = 2.5; // m around the rover

const RAYS = 90;
const VIEWS_MAX = 120;

type Body<K extends keyof ServerMessage> = NonNullable<ServerMessage[K]>;

/** Gathers what a report shows from a run's messages, in the order of making. */
export class ReportGatherer {
  readonly #setting: ReportSetting;
  readonly #timeline: Timeline;
  readonly #walls = new WallMap();
  readonly #noise = new WallNoise();
  readonly #cells = new Map<number, number>();
  readonly #path: Array<readonly [number, number]> = [];
  readonly #near = new Map<number, NearPlan>();
  #pose: { x: number; y: number; heading: number } | undefined;
  #sweep: Body<'sweep'> | undefined;
  #movers: Body<'movers'> | undefined;
  #sweeps = 0;
  #views: Array<Array<readonly [number, number]>> = [];
  #viewStep = 0.4; // m between views; doubled when there are too many
  #viewedAt = { x: Infinity, y: Infinity };

  constructor(setting: ReportSetting) {
    this.#setting = setting;
    this.#timeline = new Timeline(setting);
  }

  push(message: ServerMessage): void {
    this.#timeline.push(message);
    if (message.sweep) this.#sweep = message.sweep;
    else if (message.motion) this.#move(message.motion);
    else if (message.movers) this.#movers = message.movers;
    else if (message.shapes) this.#sweepDone(message.shapes, message.timeS ?? 0);
  }

  /** @param events of the run itself, such as marks: they are told beside what was found now. */
  finish(events: readonly RunNote[]): ReportData {
    const found = this.#timeline.take();
    const kept = events.filter(({ kind }) => KEPT.has(kind));
    return {
      moments: found.moments,
      events: [...kept, ...found.events].sort((a, b) => a.at - b.at),
      driven: this.#timeline.driven,
      path: this.#path,
      walls: this.#walls.walls(),
      cells: this.#cellsSeen(),
      near: this.#closest(),
      noise: this.#noise.bins(),
      learned: this.#noise.model(),
      sweeps: this.#sweeps,
      views: this.#views,
    };
  }

  #move({ xM, yM, headingRad }: Body<'motion'>): void {
    const pose = { x: xM ?? 0, y: yM ?? 0, heading: headingRad ?? 0 };
    this.#pose = pose;
    const last = this.#path.at(-1);
    if (last === undefined || Math.hypot(pose.x - last[0], pose.y - last[1]) >= PATH_STEP)
      this.#path.push([pose.x, pose.y]);
  }

  #sweepDone(shapes: Body<'shapes'>, at: number): void {
    const sweep = this.#sweep;
    const pose = this.#pose;
    if (sweep === undefined || pose === undefined) return;
    this.#sweeps++;
    const points = echoPoints(sweep, this.#setting);
    this.#noise.add(shapes.walls ?? [], points, this.#setting.sensor);
    this.#look(points, at, pose);
    if (this.#sweeps % EVERY !== 0) return;
    const c = Math.cos(pose.heading);
    const s = Math.sin(pose.heading);
    const seen = new Set<number>();
    for (let i = 0; i < points.count; i++) {
      const x = pose.x + c * points.x[i] - s * points.y[i];
      const y = pose.y + s * points.x[i] + c * points.y[i];
      seen.add(keyOf(x, y));
    }
    for (const key of seen) this.#cells.set(key, (this.#cells.get(key) ?? 0) + 1);
    this.#view(points, pose);
    for (const { x1M, y1M, x2M, y2M, echoes } of shapes.walls ?? [])
      this.#walls.add(
        ...([pose.x + c * (x1M ?? 0) - s * (y1M ?? 0), pose.y + s * (x1M ?? 0) + c * (y1M ?? 0)] as const),
        ...([pose.x + c * (x2M ?? 0) - s * (y2M ?? 0), pose.y + s * (x2M ?? 0) + c * (y2M ?? 0)] as const),
        echoes ?? 0,
      );
  }

  #look(points: Points, at: number, pose: { x: number; y: number; heading: number }): void {
    const { x, y, count } = points;
    const bucket = Math.floor(at / BUCKET);
    const known = this.#near.get(bucket)?.distance ?? NEAR_REACH;
    const { at: which, distance } = nearestEcho(points, this.#setting.outline, known);
    if (which < 0) return;
    const echoes: Array<readonly [number, number]> = [];
    for (let i = 0; i < count; i++) if (Math.hypot(x[i], y[i]) < NEAR_REACH) echoes.push([x[i], y[i]]);
    const movers = (this.#movers?.movers ?? [])
      .filter(({ confidence }) => (confidence ?? 0) >= 0.5)
      .map(({ xM, yM, widthM }) => ({ x: xM ?? 0, y: yM ?? 0, width: widthM ?? 0 }));
    this.#near.set(bucket, { at, distance, x: x[which], y: y[which], echoes, movers, pose });
  }

  /** The free space of one sweep, in rays of which each ends at the nearest echo around it. */
  #view({ x, y, count }: Points, pose: { x: number; y: number; heading: number }): void {
    if (Math.hypot(pose.x - this.#viewedAt.x, pose.y - this.#viewedAt.y) < this.#viewStep) return;
    this.#viewedAt = pose;
    const { sensor } = this.#setting;
    const rays = new Float64Array(RAYS);
    for (let i = 0; i < count; i++) {
      const range = Math.hypot(x[i] - sensor[0], y[i] - sensor[1]);
      const ray = Math.floor(((Math.atan2(y[i] - sensor[1], x[i] - sensor[0]) / (2 * Math.PI) + 1) % 1) * RAYS);
      if (rays[ray] === 0 || range < rays[ray]) rays[ray] = range;
    }
    const place = (bearing: number, range: number): readonly [number, number] => {
      const turned = pose.heading + bearing;
      const [c, s] = [Math.cos(pose.heading), Math.sin(pose.heading)];
      const [ox, oy] = [pose.x + c * sensor[0] - s * sensor[1], pose.y + s * sensor[0] + c * sensor[1]];
      return [ox + range * Math.cos(turned), oy + range * Math.sin(turned)];
    };
    const width = (2 * Math.PI) / RAYS;
    this.#views.push([...rays].flatMap((range, ray) => [place(ray * width, range), place((ray + 1) * width, range)]));
    if (this.#views.length <= VIEWS_MAX) return;
    this.#views = this.#views.filter((_, i) => i % 2 === 0);
    this.#viewStep *= 2;
  }

  #closest(): NearPlan[] {
    const chosen: NearPlan[] = [];
    for (const plan of [...this.#near.values()].sort((a, b) => a.distance - b.distance)) {
      if (chosen.length === NEAR_MAX) break;
      if (chosen.every(({ at }) => Math.abs(at - plan.at) >= NEAR_APART)) chosen.push(plan);
    }
    return chosen;
  }

  #cellsSeen(): Array<readonly [number, number]> {
    const often = [...this.#cells].filter(([, hits]) => hits >= CELL_HITS).sort((a, b) => b[1] - a[1]);
    return often.slice(0, CELLS_MAX).map(([key]) => placeOf(key));
  }
}

const KEPT: ReadonlySet<string> = new Set(['mark', 'clock', 'lost_bytes']);
const HALF = 1 << 20; // cells to either side of the start: 63 km

function keyOf(x: number, y: number): number {
  return (Math.floor(x / CELL) + HALF) * 2 * HALF + Math.floor(y / CELL) + HALF;
}

function placeOf(key: number): readonly [number, number] {
  const column = Math.floor(key / (2 * HALF));
  return [(column - HALF + 0.5) * CELL, (key - column * 2 * HALF - HALF + 0.5) * CELL];
}
