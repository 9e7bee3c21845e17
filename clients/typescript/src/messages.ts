import { leeway } from './gen/leeway.js';
import { type RunEvent, readRun } from './runs.js';
import { type Motion, type Movers, readMotion, readMovers, readShapes, type Shapes } from './surroundings.js';

/** What the daemon vouches for in one sector. A value this client does not know is read as unknown. */
export type SectorState = 'unknown' | 'clear' | 'obstacle';

/** Names of the feeds, as a client asks for them. */
export const FEEDS = { sweep: 1, clearance: 2, shapes: 3, movers: 4, motion: 5, health: 6, run: 7 } as const;
export type FeedName = keyof typeof FEEDS;

/** Rover axes: x ahead, y left. */
export interface Point {
  readonly xM: number;
  readonly yM: number;
}

/** Who speaks: the first message of every connection. */
export interface Hello {
  readonly version: string;
  readonly rover: string;
  readonly role: string;
  readonly source: string;
  /** Corners of the rover's outline. */
  readonly outlineM: readonly Point[];
  /** Nearest and farthest range the sensor can be believed. */
  readonly reachM: readonly number[];
  /** Stopping distance at the highest speed. */
  readonly stopM: number;
  readonly run: string;
}

/** Every list has one value a sector; sectors follow counter-clockwise from `firstBearingRad` and fill the circle evenly. */
export interface Clearance {
  readonly firstBearingRad: number;
  readonly state: readonly SectorState[];
  /** How far the outline may move in any direction before it could touch anything in the sector; 0: nothing is vouched for. */
  readonly leewayM: readonly number[];
  /** From the rover's origin to the nearest echo; Infinity: none in reach; NaN: not measured. */
  readonly nearestM: readonly number[];
  /** Age, at `sentS`, of the oldest evidence behind the sector; Infinity: there is none. */
  readonly ageS: readonly number[];
  /** The narrowest thing that could not have slipped between two beams. */
  readonly thinnestM: readonly number[];
  /** How far the outline can go straight on. */
  readonly aheadM: number;
}

/** Something a person should know, with what to do. */
export interface Finding {
  readonly code: string;
  readonly what: string;
  readonly remedy: string;
  readonly sinceS: number;
  /** Where it has a place: from here counter-clockwise to `toRad`, rover axes; undefined: it has none. */
  readonly fromRad?: number | undefined;
  readonly toRad?: number | undefined;
}

export interface Health {
  /** A value this client does not know is read as blind. */
  readonly state: 'ok' | 'degraded' | 'blind';
  readonly spinHz: number;
  readonly echoesPerS: number;
  readonly validShare: number;
  readonly receivedBytes: number;
  readonly skippedBytes: number;
  readonly badChecks: number;
  /** How far the sensor's blind ring reaches beyond the outline. */
  readonly blindBeyondOutlineM: number;
  readonly findings: readonly Finding[];
}

/** One revolution; sample i of n was measured at `firstTimeS + i * periodS / n`. */
export interface Sweep {
  readonly number: number;
  readonly firstTimeS: number;
  readonly periodS: number;
  /** Rover axes, about the sensor. */
  readonly bearingRad: readonly number[];
  /** 0: no return. */
  readonly rangeMm: readonly number[];
  readonly strength: readonly number[];
}

/** What every message carries beside its body; Unix time by the daemon's clock. */
export interface Stamps {
  /** Counts the feed's messages; gaps tell what this client did not get. */
  readonly sequence: number;
  /** When the newest echo behind the message was measured. */
  readonly timeS: number;
  /** When it was made for sending. */
  readonly sentS: number;
}

/** A message of the daemon: at most one body; none where it is of a kind that this client does not know. */
export interface ServerMessage extends Stamps {
  readonly hello?: Hello;
  readonly clearance?: Clearance;
  readonly health?: Health;
  readonly sweep?: Sweep;
  readonly shapes?: Shapes;
  readonly movers?: Movers;
  readonly motion?: Motion;
  readonly run?: RunEvent;
}

/** What a client may send; see proto/leeway/v1. */
export type ClientMessage = leeway.v1.ClientMessage.$Properties;

const SECTOR_STATES: readonly SectorState[] = ['unknown', 'unknown', 'clear', 'obstacle']; // by number; 0: unspecified
const HEALTH_STATES = ['blind', 'ok', 'degraded', 'blind'] as const;

/**
 * Reads one binary message.
 * @throws {Error} the bytes are no ServerMessage.
 */
export function readServerMessage(bytes: Uint8Array): ServerMessage {
  const message = leeway.v1.ServerMessage.decode(bytes);
  const stamps = { sequence: whole(message.sequence), timeS: message.timeS, sentS: message.sentS };
  if (message.hello) return { ...stamps, hello: readHello(message.hello) };
  if (message.clearance) return { ...stamps, clearance: readClearance(message.clearance) };
  if (message.health) return { ...stamps, health: readHealth(message.health) };
  if (message.sweep) return { ...stamps, sweep: readSweep(message.sweep) };
  if (message.shapes) return { ...stamps, shapes: readShapes(message.shapes) };
  if (message.movers) return { ...stamps, movers: readMovers(message.movers) };
  if (message.motion) return { ...stamps, motion: readMotion(message.motion) };
  if (message.run) return { ...stamps, run: readRun(message.run, whole(message.run.bytes)) };
  return stamps;
}

/** @returns the message in binary. */
export function writeClientMessage(message: ClientMessage): Uint8Array<ArrayBuffer> {
  return Uint8Array.from(leeway.v1.ClientMessage.encode(message).finish());
}

function readHello(hello: leeway.v1.Hello.$Properties): Hello {
  return {
    version: hello.version ?? '',
    rover: hello.rover ?? '',
    role: hello.role ?? '',
    source: hello.source ?? '',
    outlineM: (hello.outlineM ?? []).map(({ xM, yM }) => ({ xM: xM ?? 0, yM: yM ?? 0 })),
    reachM: hello.reachM ?? [],
    stopM: hello.stopM ?? 0,
    run: hello.run ?? '',
  };
}

function readClearance(clearance: leeway.v1.Clearance.$Properties): Clearance {
  return {
    firstBearingRad: clearance.firstBearingRad ?? 0,
    state: (clearance.state ?? []).map((state) => SECTOR_STATES[state] ?? 'unknown'),
    leewayM: clearance.leewayM ?? [],
    nearestM: clearance.nearestM ?? [],
    ageS: clearance.ageS ?? [],
    thinnestM: clearance.thinnestM ?? [],
    aheadM: clearance.aheadM ?? 0,
  };
}

function readHealth(health: leeway.v1.Health.$Properties): Health {
  return {
    state: HEALTH_STATES[health.state ?? 0] ?? 'blind',
    spinHz: health.spinHz ?? 0,
    echoesPerS: health.echoesPerS ?? 0,
    validShare: health.validShare ?? 0,
    receivedBytes: whole(health.receivedBytes),
    skippedBytes: whole(health.skippedBytes),
    badChecks: whole(health.badChecks),
    blindBeyondOutlineM: health.blindBeyondOutlineM ?? 0,
    findings: (health.findings ?? []).map(({ code, what, remedy, sinceS, fromRad, toRad }) => ({
      code: code ?? '',
      what: what ?? '',
      remedy: remedy ?? '',
      sinceS: sinceS ?? 0,
      fromRad: fromRad ?? undefined,
      toRad: toRad ?? undefined,
    })),
  };
}

function readSweep(sweep: leeway.v1.Sweep.$Properties): Sweep {
  return {
    number: sweep.number ?? 0,
    firstTimeS: sweep.firstTimeS ?? 0,
    periodS: sweep.periodS ?? 0,
    bearingRad: sweep.bearingRad ?? [],
    rangeMm: sweep.rangeMm ?? [],
    strength: sweep.strength ?? [],
  };
}

/** 64-bit counters come as a Long object where a Long class is around, whatever their type says. Exact to 2^53. */
function whole(value: number | { toNumber(): number } | null | undefined): number {
  if (value === null || value === undefined) return 0;
  return typeof value === 'number' ? value : value.toNumber();
}
