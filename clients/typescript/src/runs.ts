import type { leeway } from './gen/leeway.js';

/** The run being recorded or played: once a second, and at once when something happens. */
export interface RunEvent {
  /** Its name; empty: none. */
  readonly run: string;
  /** `state` is the regular one; see proto/leeway/v1/run.proto. */
  readonly what: string;
  /** When it happened; while playing: where in the run, by the clock of the day. */
  readonly atS: number;
  readonly text: string;
  /** A value this client does not know is read as idle. */
  readonly state: 'idle' | 'recording' | 'playing' | 'paused' | 'ended';
  /** Beginning and end of the run; while recording: the newest. */
  readonly fromS: number;
  readonly toS: number;
  /** How many times as fast as it was; 0: as fast as it can. */
  readonly pace: number;
  readonly bytes: number;
  readonly pinned: boolean;
  /** Given by a person; empty: none. */
  readonly title: string;
}

const STATES = ['idle', 'idle', 'recording', 'playing', 'paused', 'ended'] as const; // by number; 0: unspecified

/** @param bytes the count, already a plain number. @returns what a message says of a run. */
export function readRun(run: leeway.v1.RunEvent.$Properties, bytes: number): RunEvent {
  return {
    run: run.run ?? '',
    what: run.what ?? '',
    atS: run.atS ?? 0,
    text: run.text ?? '',
    state: STATES[run.state ?? 0] ?? 'idle',
    fromS: run.fromS ?? 0,
    toS: run.toS ?? 0,
    pace: run.pace ?? 0,
    bytes,
    pinned: run.pinned ?? false,
    title: run.title ?? '',
  };
}
