import { TAU, wrapAngle } from '../core/angles.js';
import { Fault } from '../core/fault.js';
import type { Mask, SensorSetting } from '../device/setting.js';
import type { Outline } from '../geometry/outline.js';
import { SAMPLE_KIND } from '../sweep/echoBatch.js';
import type { Sweep } from '../sweep/sweep.js';
import { median, quantile } from './quantile.js';
import { degrees } from './stretches.js';

/** m: whoever does as they are told keeps 1 m free; what is nearer than this is the rover. */
const FREE = 0.9;
/** m beyond the outline where a part of the rover may still be, such as a bumper that nobody drew. */
const BEYOND = 0.15;
/** m: a mask reaches so much farther than the body's echoes, for noise. */
const FARTHER = 0.03;
/** The farthest few in a hundred are mixed with what lies behind the edge. */
const MIXED = 0.03;
/** Parts of the body with no more than so many samples between them are one. */
const GAP = 2;
const HITS_LEAST = 5;
/** Of the samples between its edges: the body stays. */
const STAYS = 0.5;

/**
 * Learns what of the rover its sensor sees, with nothing else within 1 m.
 * @param sweeps measured without masks, the rover standing still.
 * @returns masks about the sensor, each half a sample step wider than the echoes at its ends.
 * @throws {Fault} STEP_UNCLEAR: something near that is not the rover, or that comes and goes.
 */
export function masksOf(sweeps: readonly Sweep[], outline: Outline, { mount }: SensorSetting): Mask[] {
  const step = median(sweeps.map(({ count }) => TAU / count));
  const hits: { bearing: number; range: number }[] = [];
  const all: number[] = [];
  for (const { count, bearing, range, kind } of sweeps) {
    for (let i = 0; i < count; i++) {
      all.push(bearing[i]);
      const isNear = kind[i] === SAMPLE_KIND.echo || kind[i] === SAMPLE_KIND.tooNear;
      if (isNear && range[i] < FREE) hits.push({ bearing: bearing[i], range: range[i] });
    }
  }
  hits.sort((a, b) => a.bearing - b.bearing);
  return groups(hits, GAP * step)
    .filter((group) => group.length >= HITS_LEAST)
    .map((group) => {
      const from = wrapAngle(group[0].bearing - step / 2);
      const width = wrapTurn(group[group.length - 1].bearing - group[0].bearing) + step;
      const samples = all.filter((bearing) => wrapTurn(bearing - from) <= width).length;
      const aside = group.filter(({ bearing, range }) => {
        const x = mount.x + range * Math.cos(bearing);
        return outline.distance(x, mount.y + range * Math.sin(bearing)) > BEYOND;
      });
      const place = `${median(group.map(({ range }) => range)).toFixed(2)} m from the sensor at ${degrees(wrapAngle(from + width / 2))} degrees`;
      if (2 * aside.length > group.length)
        throw new Fault('STEP_UNCLEAR', {
          text: `something that is not the rover stands ${place}; 1 m around must be free`,
        });
      if (group.length < STAYS * samples)
        throw new Fault('STEP_UNCLEAR', { text: `something comes and goes ${place}; 1 m around must be free` });
      const upTo =
        quantile(
          group.map(({ range }) => range),
          1 - MIXED,
        ) + FARTHER;
      return { from, to: wrapAngle(from + width), upTo };
    });
}

/** @param hits by bearing. @returns them in groups of neighbours, whole across the end of the circle. */
function groups<T extends { bearing: number }>(hits: readonly T[], gap: number): T[][] {
  const found: T[][] = [];
  for (const hit of hits) {
    const last = found.at(-1);
    if (last !== undefined && hit.bearing - (last.at(-1)?.bearing ?? 0) <= gap) last.push(hit);
    else found.push([hit]);
  }
  const first = found.at(0);
  const last = found.at(-1);
  if (first === undefined || last === undefined || found.length < 2) return found;
  if (first[0].bearing + TAU - (last.at(-1)?.bearing ?? 0) > gap) return found;
  found.pop();
  found[0] = [...last, ...first];
  return found;
}

/** @returns the same turn, rad, [0, 2π). */
function wrapTurn(angle: number): number {
  return angle - TAU * Math.floor(angle / TAU);
}

/** @returns whether each of `wanted` lies within one of `masks`, but for `slack` (rad) at its ends. */
export function isCovered(wanted: readonly Mask[], masks: readonly Mask[], slack: number): boolean {
  return wanted.every((want) => {
    const width = wrapTurn(want.to - want.from) - 2 * slack;
    return masks.some(
      (mask) =>
        mask.upTo >= want.upTo - FARTHER &&
        wrapTurn(want.from + slack - mask.from) + Math.max(0, width) <= wrapTurn(mask.to - mask.from),
    );
  });
}
