import type { leeway } from './gen/leeway.js';

/** A straight surface: x cos(normalRad) + y sin(normalRad) = distanceM, seen from (x1, y1) to (x2, y2). */
export interface Wall {
  readonly normalRad: number;
  readonly distanceM: number;
  readonly x1M: number;
  readonly y1M: number;
  readonly x2M: number;
  readonly y2M: number;
  readonly echoes: number;
}

/** Where two walls meet. A kind this client does not know is undefined. */
export interface Corner {
  readonly xM: number;
  readonly yM: number;
  readonly angleRad: number;
  readonly kind: 'inner' | 'outer' | undefined;
}

/** A gap that leads on, between two ends. */
export interface Opening {
  readonly x1M: number;
  readonly y1M: number;
  readonly x2M: number;
  readonly y2M: number;
  readonly widthM: number;
  readonly widthSdM: number;
}

/** A small round thing that stands. */
export interface Post {
  readonly xM: number;
  readonly yM: number;
  readonly radiusM: number;
}

/** What one sweep shows, in rover axes at the message's `timeS`. */
export interface Shapes {
  readonly sweep: number;
  readonly walls: readonly Wall[];
  readonly corners: readonly Corner[];
  readonly openings: readonly Opening[];
  readonly posts: readonly Post[];
}

/** One thing that moves over ground. */
export interface Mover {
  readonly id: number;
  readonly xM: number;
  readonly yM: number;
  readonly vxMps: number;
  readonly vyMps: number;
  readonly widthM: number;
  /** Since it was first followed. */
  readonly ageS: number;
  /** 0 to 1. */
  readonly confidence: number;
  /** Closest approach to the outline, if both go on as they do. */
  readonly closestM: number;
  readonly closestInS: number;
}

/** What moves, in rover axes at the message's `timeS`. */
export interface Movers {
  readonly sweep: number;
  readonly movers: readonly Mover[];
}

/** The rover's own motion: pose since the start, velocity in rover axes. */
export interface Motion {
  readonly xM: number;
  readonly yM: number;
  readonly headingRad: number;
  readonly vxMps: number;
  readonly vyMps: number;
  readonly turnRadps: number;
  /** 0 to 1. */
  readonly quality: number;
}

const CORNER_KINDS = [undefined, 'inner', 'outer'] as const; // by number

/** @returns the shapes with every field there. */
export function readShapes(shapes: leeway.v1.Shapes.$Properties): Shapes {
  return {
    sweep: shapes.sweep ?? 0,
    walls: (shapes.walls ?? []).map((wall) => ({
      normalRad: wall.normalRad ?? 0,
      distanceM: wall.distanceM ?? 0,
      ...ends(wall),
      echoes: wall.echoes ?? 0,
    })),
    corners: (shapes.corners ?? []).map(({ xM, yM, angleRad, kind }) => ({
      xM: xM ?? 0,
      yM: yM ?? 0,
      angleRad: angleRad ?? 0,
      kind: CORNER_KINDS[kind ?? 0],
    })),
    openings: (shapes.openings ?? []).map((opening) => ({
      ...ends(opening),
      widthM: opening.widthM ?? 0,
      widthSdM: opening.widthSdM ?? 0,
    })),
    posts: (shapes.posts ?? []).map(({ xM, yM, radiusM }) => ({ xM: xM ?? 0, yM: yM ?? 0, radiusM: radiusM ?? 0 })),
  };
}

/** @returns the movers with every field there. */
export function readMovers(movers: leeway.v1.Movers.$Properties): Movers {
  return {
    sweep: movers.sweep ?? 0,
    movers: (movers.movers ?? []).map((mover) => ({
      id: mover.id ?? 0,
      xM: mover.xM ?? 0,
      yM: mover.yM ?? 0,
      vxMps: mover.vxMps ?? 0,
      vyMps: mover.vyMps ?? 0,
      widthM: mover.widthM ?? 0,
      ageS: mover.ageS ?? 0,
      confidence: mover.confidence ?? 0,
      closestM: mover.closestM ?? 0,
      closestInS: mover.closestInS ?? 0,
    })),
  };
}

/** @returns the motion with every field there. */
export function readMotion(motion: leeway.v1.Motion.$Properties): Motion {
  return {
    xM: motion.xM ?? 0,
    yM: motion.yM ?? 0,
    headingRad: motion.headingRad ?? 0,
    vxMps: motion.vxMps ?? 0,
    vyMps: motion.vyMps ?? 0,
    turnRadps: motion.turnRadps ?? 0,
    quality: motion.quality ?? 0,
  };
}

interface Ends {
  readonly x1M: number;
  readonly y1M: number;
  readonly x2M: number;
  readonly y2M: number;
}

function ends({ x1M, y1M, x2M, y2M }: { [Name in keyof Ends]?: number | null }): Ends {
  return { x1M: x1M ?? 0, y1M: y1M ?? 0, x2M: x2M ?? 0, y2M: y2M ?? 0 };
}
