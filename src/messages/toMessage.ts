import type { ClearanceValues } from '../perception/clearance/clearance.js';
import type { Percept } from '../perception/perceive.js';
import type { Sweep } from '../sweep/sweep.js';
import { CornerKind, type ServerMessage } from './codec.js';

type Body<K extends keyof ServerMessage> = NonNullable<ServerMessage[K]>;

/** @returns the message of a clearance; its enum follows SECTOR of perception/clearance. */
export function clearanceMessage(values: ClearanceValues): Body<'clearance'> {
  return {
    firstBearingRad: values.firstBearing,
    state: Array.from(values.state),
    leewayM: Array.from(values.leeway),
    nearestM: Array.from(values.nearest),
    ageS: Array.from(values.age),
    thinnestM: Array.from(values.thinnest),
    aheadM: values.ahead,
  };
}

/** @returns the message of a sweep. */
export function sweepMessage(sweep: Sweep): Body<'sweep'> {
  return {
    number: sweep.number,
    firstTimeS: sweep.firstTime,
    periodS: sweep.period,
    bearingRad: Array.from(sweep.bearing),
    rangeMm: Array.from(sweep.range, (range) => (range < Infinity ? Math.round(range * 1000) : 0)),
    strength: Array.from(sweep.strength),
  };
}

/** @returns the message of a sweep's shapes. */
export function shapesMessage({ sweep, shapes }: Percept): Body<'shapes'> {
  return {
    sweep,
    segments: shapes.segments.map(({ first, count, x, y, width }) => ({ first, count, xM: x, yM: y, widthM: width })),
    walls: shapes.walls.map((wall) => ({
      normalRad: wall.normal,
      distanceM: wall.distance,
      distanceVar: wall.distanceVar,
      crossCov: wall.crossCov,
      normalVar: wall.normalVar,
      x1M: wall.x1,
      y1M: wall.y1,
      x2M: wall.x2,
      y2M: wall.y2,
      roughnessM: wall.roughness,
      echoes: wall.echoes,
    })),
    corners: shapes.corners.map(({ x, y, angle, angleSd, kind }) => ({
      xM: x,
      yM: y,
      angleRad: angle,
      angleSdRad: angleSd,
      kind: kind === 'inner' ? CornerKind.CORNER_KIND_INNER : CornerKind.CORNER_KIND_OUTER,
    })),
    openings: shapes.openings.map(({ x1, y1, x2, y2, width, widthSd }) => ({
      ...{ x1M: x1, y1M: y1, x2M: x2, y2M: y2 },
      widthM: width,
      widthSdM: widthSd,
    })),
    posts: shapes.posts.map(({ x, y, radius, radiusSd, echoes }) => ({
      xM: x,
      yM: y,
      radiusM: radius,
      radiusSdM: radiusSd,
      echoes,
    })),
  };
}

/** @returns the message of what moves. */
export function moversMessage({ sweep, movers }: Percept): Body<'movers'> {
  return {
    sweep,
    movers: movers.map((mover) => ({
      id: mover.id,
      xM: mover.x,
      yM: mover.y,
      vxMps: mover.vx,
      vyMps: mover.vy,
      widthM: mover.width,
      ageS: mover.age,
      confidence: mover.confidence,
      closestM: mover.closest,
      closestInS: mover.closestIn,
    })),
  };
}

/** @returns the message of the rover's own motion. */
export function motionMessage({ pose, twist, covariance, quality }: Percept): Body<'motion'> {
  return {
    xM: pose.x,
    yM: pose.y,
    headingRad: pose.heading,
    vxMps: twist.vx,
    vyMps: twist.vy,
    turnRadps: twist.turn,
    covariance: [...covariance],
    quality,
  };
}

/** What a Health message says; structural, so that messages need not know who watches. */
export interface HealthFigures {
  readonly state: number;
  readonly spin: number;
  readonly echoRate: number;
  readonly validShare: number;
  readonly receivedBytes: number;
  readonly skippedBytes: number;
  readonly badChecks: number;
  readonly blindBeyondOutline: number;
  readonly findings: ReadonlyArray<Readonly<{ code: string; what: string; remedy: string; since: number }>>;
}

/** @returns the message of health; its enum follows HEALTH of health. */
export function healthMessage(health: HealthFigures): Body<'health'> {
  return {
    state: health.state,
    spinHz: health.spin,
    echoesPerS: health.echoRate,
    validShare: health.validShare,
    receivedBytes: health.receivedBytes,
    skippedBytes: health.skippedBytes,
    badChecks: health.badChecks,
    blindBeyondOutlineM: health.blindBeyondOutline,
    findings: health.findings.map(({ code, what, remedy, since }) => ({ code, what, remedy, sinceS: since })),
  };
}

/** What a client learns of the rover when it connects. */
export interface HelloFacts {
  readonly version: string;
  readonly rover: string;
  readonly source: string;
  readonly outline: ReadonlyArray<readonly [number, number]>;
  readonly reach: readonly [number, number];
  /** m, stopping distance at the highest speed. */
  readonly stop: number;
  readonly run: string;
}

/** @returns the message that greets a client of that role. */
export function helloMessage(facts: HelloFacts, role: string): Body<'hello'> {
  return {
    version: facts.version,
    rover: facts.rover,
    role,
    source: facts.source,
    outlineM: facts.outline.map(([x, y]) => ({ xM: x, yM: y })),
    reachM: [...facts.reach],
    stopM: facts.stop,
    run: facts.run,
  };
}
