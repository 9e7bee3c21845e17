import { turnAngle, wrapAngle } from '../../core/angles.js';
import type { ClearanceSetting, Pose } from './setting.js';

const EDGE = (0.5 * Math.PI) / 180; // an echo this near a sector's edge counts for both (contract, "Following the beam")

/**
 * Points seen by the sensor, as columns, with what the clearance rules ask of each: its distance from the outline and the
 * sectors it counts for. Rows are written by {@link put} and moved by {@link place}; the caller keeps the count.
 */
export class Placed {
  /** m[rows], in the frame that stands still (rover axes while the motion is not known); written by {@link anchor}. */
  readonly fixedX: Float64Array;
  readonly fixedY: Float64Array;
  /** m[rows], rover axes. */
  readonly x: Float64Array;
  readonly y: Float64Array;
  /** rad[rows], m[rows]: as the sensor would see the point now, rover axes about the sensor. */
  readonly bearing: Float64Array;
  readonly range: Float64Array;
  /** m[rows], shortest distance from the outline to the point and its half step either side. */
  readonly gap: Float64Array;
  /** m[rows], from the rover's origin. */
  readonly fromOrigin: Float64Array;
  /** First sector the point counts for, and how many follow it counter-clockwise (1 or more). */
  readonly sector: Int32Array;
  readonly sectorCount: Int32Array;
  /** s[rows], when it was measured. */
  readonly time: Float64Array;

  readonly #setting: ClearanceSetting;
  /** Whether distance from the outline only grows along a ray from the sensor; else the whole unseen ray is measured. */
  readonly #growsOutwards: boolean;

  constructor(setting: ClearanceSetting, rows: number) {
    this.#setting = setting;
    this.#growsOutwards = setting.outline.isConvex && setting.outline.contains(setting.sensor[0], setting.sensor[1]);
    this.fixedX = new Float64Array(rows);
    this.fixedY = new Float64Array(rows);
    this.x = new Float64Array(rows);
    this.y = new Float64Array(rows);
    this.bearing = new Float64Array(rows);
    this.range = new Float64Array(rows);
    this.gap = new Float64Array(rows);
    this.fromOrigin = new Float64Array(rows);
    this.sector = new Int32Array(rows);
    this.sectorCount = new Int32Array(rows);
    this.time = new Float64Array(rows);
  }

  /**
   * Writes a row from what the sensor saw.
   * @param bearing rad, rover axes about the sensor. @param range m. @param half rad, half a sample step.
   */
  put(row: number, bearing: number, range: number, half: number): void {
    const { outline, sensor, sectors, firstBearing, reach } = this.#setting;
    const [mx, my] = sensor;
    const c = Math.cos(bearing);
    const s = Math.sin(bearing);
    const x = mx + range * c;
    const y = my + range * s;
    const ch = Math.cos(half);
    const sh = Math.sin(half);
    let gap = this.#gapBeyond(outline.distance(x, y), range, c, s);
    if (gap < reach[1]) {
      gap = Math.min(
        gap,
        this.#gapAt(range, c * ch - s * sh, s * ch + c * sh),
        this.#gapAt(range, c * ch + s * sh, s * ch - c * sh),
      );
    }
    const width = (2 * Math.PI) / sectors;
    const seenFrom = mx === 0 && my === 0 ? bearing : Math.atan2(y, x);
    const margin = Math.max(half, EDGE);
    let before = margin; // rad, how far the row reaches either side of its bearing, as the origin sees it
    let after = margin;
    if (mx !== 0 || my !== 0) {
      // half a step about the sensor may be many about the origin, where an echo is near or slanted
      for (let side = -1; side <= 1; side += 2) {
        const apart = wrapAngle(
          Math.atan2(my + range * (s * ch + side * c * sh), mx + range * (c * ch - side * s * sh)) - seenFrom,
        );
        before = Math.max(before, -apart);
        after = Math.max(after, apart);
      }
    }
    const low = Math.floor((turnAngle(seenFrom - firstBearing) - before) / width);
    const high = Math.floor((turnAngle(seenFrom - firstBearing) + after) / width);
    this.x[row] = x;
    this.y[row] = y;
    this.bearing[row] = bearing;
    this.range[row] = range;
    this.gap[row] = gap;
    this.fromOrigin[row] = mx === 0 && my === 0 ? range : Math.hypot(x, y);
    this.sector[row] = (low + sectors) % sectors;
    this.sectorCount[row] = Math.min(sectors, high - low + 1);
  }

  /** Pins a row, as put, to the frame that stands still. @param pose the rover's when the row was measured. */
  anchor(row: number, pose: Readonly<Pose>): void {
    const c = Math.cos(pose.heading);
    const s = Math.sin(pose.heading);
    this.fixedX[row] = pose.x + c * this.x[row] - s * this.y[row];
    this.fixedY[row] = pose.y + s * this.x[row] + c * this.y[row];
  }

  /** Moves a pinned row to where a rover at `pose` sees it. */
  place(row: number, pose: Readonly<Pose>, half: number): void {
    const c = Math.cos(pose.heading);
    const s = Math.sin(pose.heading);
    const dx = this.fixedX[row] - pose.x;
    const dy = this.fixedY[row] - pose.y;
    const fromSensorX = c * dx + s * dy - this.#setting.sensor[0];
    const fromSensorY = c * dy - s * dx - this.#setting.sensor[1];
    this.put(row, Math.atan2(fromSensorY, fromSensorX), Math.hypot(fromSensorX, fromSensorY), half);
  }

  /** Copies a row of another table. */
  copy(row: number, from: Placed, fromRow: number): void {
    this.fixedX[row] = from.fixedX[fromRow];
    this.fixedY[row] = from.fixedY[fromRow];
    this.x[row] = from.x[fromRow];
    this.y[row] = from.y[fromRow];
    this.bearing[row] = from.bearing[fromRow];
    this.range[row] = from.range[fromRow];
    this.gap[row] = from.gap[fromRow];
    this.fromOrigin[row] = from.fromOrigin[fromRow];
    this.sector[row] = from.sector[fromRow];
    this.sectorCount[row] = from.sectorCount[fromRow];
    this.time[row] = from.time[fromRow];
  }

  /**
   * How far the beam must still go, in its own sense, to have passed every sector that the row counts for.
   * @returns rad, at least `half`.
   */
  beamToGo(row: number, sense: 1 | -1, half: number): number {
    const { sectors, firstBearing, sensor } = this.#setting;
    const width = (2 * Math.PI) / sectors;
    const last = sense > 0 ? this.sector[row] + this.sectorCount[row] : this.sector[row];
    const edge = firstBearing + last * width;
    const margin = Math.max(half, EDGE);
    const r = this.fromOrigin[row];
    const toEdge = Math.atan2(r * Math.sin(edge) - sensor[1], r * Math.cos(edge) - sensor[0]);
    return Math.max(half, sense * wrapAngle(toEdge - this.bearing[row])) + margin;
  }

  #gapAt(range: number, c: number, s: number): number {
    const { outline, sensor } = this.#setting;
    return this.#gapBeyond(outline.distance(sensor[0] + range * c, sensor[1] + range * s), range, c, s);
  }

  #gapBeyond(gap: number, range: number, c: number, s: number): number {
    if (this.#growsOutwards || gap === 0) return gap;
    const { outline, sensor, reach } = this.#setting;
    const far = range + 2 * reach[1];
    return outline.distanceToSegment(
      sensor[0] + range * c,
      sensor[1] + range * s,
      sensor[0] + far * c,
      sensor[1] + far * s,
    );
  }
}
