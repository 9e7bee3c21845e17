import type { ClearanceValues } from '../perception/clearance/clearance.js';
import type { Sweep } from '../sweep/sweep.js';
import type { ServerMessage } from './codec.js';

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
