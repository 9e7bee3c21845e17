/**
 * What becomes of the bytes at a position.
 * - `release`: a packet whose samples are vouched for.
 * - `hold`: a packet, but its samples are no new evidence (the bearing stands still, or was there already).
 * - `skip`: no packet begins here; one byte on.
 * - `wait`: later bytes decide.
 */
export type Verdict = 'release' | 'hold' | 'skip' | 'wait';

/** Decides from the bytes alone, so that the result does not depend on how they were cut. */
export interface Judge {
  /**
   * @param bytes held bytes; those from `end` on do not count. At least one packet of the least length fits between `at` and `end`.
   * @param position of `at`, bytes since the beginning.
   */
  judge(bytes: Readonly<Uint8Array>, at: number, end: number, position: number): Verdict;
  /** What comes from `position` on (bytes since the beginning) has nothing to do with what came before. */
  forget(position: number): void;
  readonly isLocked: boolean;
  /** Well-framed samples repeat one bearing. */
  readonly isStalled: boolean;
  /** Counts the times that nothing connected the released samples with those before. */
  readonly locks: number;
  /** After `release`: number of the packet's last sample in the sensor's own count, lost ones included. */
  readonly index: number;
  /** After `release`: as index, of the newest sample that was looked at, and where its packet begins from `at`, bytes. */
  readonly seenIndex: number;
  readonly seenFrom: number;
  /** Candidates that looked like a packet and failed its check. */
  readonly badChecks: number;
}

/** A lock is lost after so many bytes without a released sample: a revolution of most sensors, and the longest repeat that is seen through. */
export const FORGET_BYTES = 2048;
/** Counts of the angle by which a standing bearing may tremble. */
export const STANDING = 2;

/** @returns angle difference in (-turn/2, turn/2]. */
export function signedTurn(difference: number, turn: number): number {
  const turned = difference - turn * Math.floor(difference / turn);
  return turned > turn / 2 ? turned - turn : turned;
}
