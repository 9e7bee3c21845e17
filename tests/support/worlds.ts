import { readFileSync } from 'node:fs';
import { readRows } from './sharedData.js';

/** A sweep of a simulated drive with its truth (the form is described beside the worlds). */
export interface WorldSweep {
  readonly t: number;
  readonly dt: number;
  readonly bearings: readonly number[];
  readonly ranges: readonly number[];
  readonly truth: {
    readonly hit: readonly number[];
    readonly mixed: readonly number[];
    readonly pose: ReadonlyArray<readonly [number, number, number]>;
    readonly circles: ReadonlyArray<readonly [number, number, number, number, number, number]>;
  };
}

interface WorldFile {
  readonly name: string;
  readonly samples: number;
  readonly rev_per_s: number;
  readonly direction: 'ccw' | 'cw';
  readonly faces: ReadonlyArray<{ id: number; p: readonly [number, number, number, number] }>;
  readonly circles: ReadonlyArray<{ id: number; p: readonly [number, number, number] }>;
}

/** One sample's truth: the pose it was taken from and the exact point its beam's centre hit; id 0: nothing in range. */
export interface TrueHit {
  readonly id: number;
  readonly isMixed: boolean;
  readonly x: number;
  readonly y: number;
  readonly range: number;
}

export interface World {
  readonly name: string;
  readonly sense: 1 | -1;
  readonly samples: number;
  readonly sweeps: readonly WorldSweep[];
  /** m/s and rad/s, the fastest the rover goes and turns between two pose knots. */
  readonly speedMax: number;
  readonly turnMax: number;
  readonly faces: ReadonlyMap<number, readonly [number, number, number, number]>;
  readonly circles: ReadonlyMap<number, readonly [number, number, number]>;
  pose(sweep: WorldSweep, sample: number): readonly [number, number, number];
  hits(sweep: WorldSweep): TrueHit[];
}

export const WORLDS = [
  'aisle1600',
  'curve400',
  'doors400',
  'glass800',
  'hall800',
  'lcorr400',
  'room400',
  'workshop1600',
  'workshop800',
] as const;

/** @param folder the worlds' folder. */
export function readWorld(folder: string, name: string): World {
  const file = JSON.parse(readFileSync(`${folder}/${name}.world.json`, 'utf8')) as WorldFile;
  const sweeps = readRows<WorldSweep>(`${folder}/${name}.ndjson.gz`);
  const faces = new Map(file.faces.map((face) => [face.id, face.p]));
  const circles = new Map(file.circles.map((circle) => [circle.id, circle.p]));
  const pose = (sweep: WorldSweep, sample: number): readonly [number, number, number] => {
    const at = (Math.min(1, Math.max(0, sample / sweep.ranges.length)) * (sweep.truth.pose.length - 1)) as number;
    const i = Math.min(Math.floor(at), sweep.truth.pose.length - 2);
    const [a, b] = [sweep.truth.pose[i], sweep.truth.pose[i + 1]];
    const u = at - i;
    return [a[0] + u * (b[0] - a[0]), a[1] + u * (b[1] - a[1]), a[2] + u * (b[2] - a[2])];
  };
  const hits = (sweep: WorldSweep): TrueHit[] => {
    const n = sweep.ranges.length;
    const ids: number[] = [];
    for (let i = 0; i < sweep.truth.hit.length; i += 2)
      for (let j = 0; j < sweep.truth.hit[i + 1]; j++) ids.push(sweep.truth.hit[i]);
    const mixed = new Set(sweep.truth.mixed);
    const movers = new Map(sweep.truth.circles.map((circle) => [circle[0], circle]));
    return ids.map((id, i) => {
      if (id === 0) return { id, isMixed: false, x: NaN, y: NaN, range: Infinity };
      const [px, py, heading] = pose(sweep, i);
      const dx = Math.cos(heading + sweep.bearings[i]);
      const dy = Math.sin(heading + sweep.bearings[i]);
      let range: number;
      if (id < 1000) {
        const [x1, y1, x2, y2] = faces.get(id) as readonly [number, number, number, number];
        range = ((x1 - px) * (y2 - y1) - (y1 - py) * (x2 - x1)) / (dx * (y2 - y1) - dy * (x2 - x1));
      } else {
        let [cx, cy, radius] = id < 2000 ? (circles.get(id) as readonly [number, number, number]) : [0, 0, 0];
        if (id > 2000) {
          const circle = movers.get(id) as readonly [number, number, number, number, number, number];
          const after = (i / n - 0.5) * sweep.dt * n;
          [cx, cy, radius] = [circle[1] + circle[4] * after, circle[2] + circle[5] * after, circle[3]];
        }
        const qx = cx - px;
        const qy = cy - py;
        const along = qx * dx + qy * dy;
        range = along - Math.sqrt(Math.max(0, radius * radius - (qx * qx + qy * qy - along * along)));
      }
      return { id, isMixed: mixed.has(i), x: px + range * dx, y: py + range * dy, range };
    });
  };
  let speedMax = 0;
  let turnMax = 0;
  for (const sweep of sweeps) {
    const step = (sweep.dt * sweep.ranges.length) / (sweep.truth.pose.length - 1);
    for (let i = 1; i < sweep.truth.pose.length; i++) {
      const [a, b] = [sweep.truth.pose[i - 1], sweep.truth.pose[i]];
      speedMax = Math.max(speedMax, Math.hypot(b[0] - a[0], b[1] - a[1]) / step);
      turnMax = Math.max(turnMax, Math.abs(b[2] - a[2]) / step);
    }
  }
  return {
    name: file.name,
    sense: file.direction === 'cw' ? -1 : 1,
    samples: file.samples,
    sweeps,
    speedMax,
    turnMax,
    faces,
    circles,
    pose,
    hits,
  };
}
