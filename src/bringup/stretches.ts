import { TAU, wrapAngle } from '../core/angles.js';

/** Part of the circle, rad, rover axes about the sensor: counter-clockwise from `from` to `to`, each [-π, π). */
export interface Stretch {
  readonly from: number;
  readonly to: number;
}

/** @param count bins that fill the circle evenly, the first beginning at -π. @returns the bin of a bearing (rad, [-π, π)). */
export function binOf(bearing: number, count: number): number {
  return Math.min(count - 1, Math.max(0, Math.floor(((bearing + Math.PI) / TAU) * count)));
}

/** Bins in a row; `last` is half-open and more than the count where the run leads on over the end of the circle. */
export interface BinRun {
  readonly first: number;
  readonly last: number;
}

/** @returns the runs of bins that `isIn` holds for, in order, each whole across the end of the circle. */
export function runsOf(count: number, isIn: (bin: number) => boolean): BinRun[] {
  const flags = Array.from({ length: count }, (_, bin) => isIn(bin));
  const origin = flags.indexOf(false);
  if (origin < 0) return [{ first: 0, last: count }];
  const runs: BinRun[] = [];
  let first = -1;
  for (let k = 1; k <= count; k++) {
    const bin = origin + k;
    const inside = flags[bin % count];
    if (inside && first < 0) first = bin;
    if (!inside && first >= 0) {
      runs.push(first >= count ? { first: first - count, last: bin - count } : { first, last: bin });
      first = -1;
    }
  }
  return runs.sort((a, b) => a.first - b.first);
}

/** @returns the stretch that a run of bins covers; the whole circle is [-π, π). */
export function stretchOf({ first, last }: BinRun, count: number): Stretch {
  if (last - first >= count) return { from: -Math.PI, to: Math.PI };
  return { from: wrapAngle((first / count) * TAU - Math.PI), to: wrapAngle((last / count) * TAU - Math.PI) };
}

/** @returns for people: "30 to 60 degrees", to the left of ahead, negative to the right. */
export function stretchText({ from, to }: Stretch): string {
  return `${degrees(from)} to ${degrees(to)} degrees`;
}

/** @returns whole degrees, to the left of ahead. */
export function degrees(angle: number): number {
  return Math.round((angle * 180) / Math.PI) + 0; // no -0
}
