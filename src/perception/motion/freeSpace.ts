import { TAU } from '../../core/angles.js';
import type { Pose } from './reference.js';
import type { SensorModel, SweepPoints } from './sweepPoints.js';

const BINS_MAX = 720;
const KEPT = 10;
/** s, least time between two kept sweeps. */
const APART = 0.29;
/** m: a place counts as seen free only this much short of what the beam reached. */
const MARGIN = 0.12;

/**
 * Where beams of the last seconds have passed: for a few kept sweeps, how far each bearing reached. A place in front of that was
 * free then; where a bearing had no echo, nothing is known.
 */
export class FreeSpace {
  readonly #reach = new Float32Array(KEPT * BINS_MAX);
  readonly #x = new Float64Array(KEPT);
  readonly #y = new Float64Array(KEPT);
  readonly #heading = new Float64Array(KEPT);
  readonly #time = new Float64Array(KEPT);
  #bins = BINS_MAX;
  #count = 0;
  #next = 0;
  #last = -Infinity;

  /** Keeps this sweep if the last kept one is old enough. @param points deskewed. @param pose of the rover at the sweep's middle. */
  keep(points: SweepPoints, sensor: SensorModel, pose: Pose): void {
    if (points.middle - this.#last < APART) return;
    const bins = Math.min(BINS_MAX, Math.max(120, points.samples >> 1));
    if (bins !== this.#bins) {
      // another sensor or layout: what was kept has other bins
      this.#bins = bins;
      this.#count = 0;
      this.#next = 0;
    }
    this.#last = points.middle;
    const k = this.#next;
    this.#next = (k + 1) % KEPT;
    this.#count = Math.min(KEPT, this.#count + 1);
    const c = Math.cos(pose.heading);
    const s = Math.sin(pose.heading);
    this.#x[k] = pose.x + c * sensor.x - s * sensor.y;
    this.#y[k] = pose.y + s * sensor.x + c * sensor.y;
    this.#heading[k] = pose.heading;
    this.#time[k] = points.middle;
    const reach = this.#reach;
    const first = k * bins;
    reach.fill(Infinity, first, first + bins);
    const { x, y, count } = points;
    for (let i = 0; i < count; i++) {
      const dx = x[i] - sensor.x;
      const dy = y[i] - sensor.y;
      let bin = ((Math.atan2(dy, dx) + Math.PI) * (bins / TAU)) | 0;
      if (bin >= bins) bin = 0;
      const d = dx * dx + dy * dy;
      if (d < reach[first + bin]) reach[first + bin] = d;
    }
    for (let b = first; b < first + bins; b++) reach[b] = reach[b] === Infinity ? 0 : Math.sqrt(reach[b]);
  }

  /**
   * @param x, y m, a place in the frame of the start.
   * @param noise m, one standard deviation of the place.
   * @param before s: only sweeps kept before this time are asked.
   * @returns share of the kept sweeps that saw it and found it free; -1 where none saw it.
   */
  freeShare(x: number, y: number, noise: number, before: number): number {
    let free = 0;
    let known = 0;
    const reach = this.#reach;
    const bins = this.#bins;
    for (let k = 0; k < this.#count; k++) {
      if (this.#time[k] >= before) continue;
      const dx = x - this.#x[k];
      const dy = y - this.#y[k];
      const d = Math.sqrt(dx * dx + dy * dy);
      let turn = (Math.atan2(dy, dx) - this.#heading[k] + Math.PI) / TAU;
      turn = (turn - Math.floor(turn)) * bins;
      const bin = Math.min(bins - 1, Math.floor(turn));
      const side = turn - bin < 0.5 ? (bin === 0 ? bins - 1 : bin - 1) : bin === bins - 1 ? 0 : bin + 1;
      const a = reach[k * bins + bin];
      const b = reach[k * bins + side];
      const near = Math.min(a, b);
      if (near === 0) continue;
      const margin = MARGIN + 3 * noise;
      if (d < near - margin) {
        free++;
        known++;
      } else if (d < near + margin) known++; // something stood here; farther is behind it: unknown
    }
    return known === 0 ? -1 : free / known;
  }
}
