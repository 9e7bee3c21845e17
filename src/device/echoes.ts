import { TAU, turnAngle, wrapAngle } from '../core/angles.js';
import { type EchoBatch, SAMPLE_KIND } from '../sweep/echoBatch.js';
import type { DecodedSamples } from './decoder.js';
import type { Layout } from './layouts/layout.js';
import type { SensorSetting } from './setting.js';

/**
 * The one place of mounting, sense of rotation, range correction, reach and masks: a sensor's own samples become echoes in
 * rover axes. In this order: sense (clockwise angles run against the sensor's right-handed axes), upside down (turn about x),
 * yaw. Bearings stay about the sensor; its offset is for whoever needs points. Pitch and roll tilt the plane; a few degrees
 * change no bearing that matters, and they are not applied.
 */
export class Echoes {
  /** Sense of the beam in rover axes: 1 counter-clockwise, -1 clockwise. */
  readonly sense: 1 | -1;
  readonly #setting: SensorSetting;

  constructor(sense: Layout['sense'], setting: SensorSetting) {
    this.sense = (sense === 'clockwise') === setting.mount.upsideDown ? 1 : -1;
    this.#setting = setting;
  }

  /**
   * @param time s[count], of each sample; kept by the batch.
   * @returns a fresh batch.
   * @cost one pass, five columns.
   */
  convert(samples: Readonly<DecodedSamples>, time: Float64Array): EchoBatch {
    const { count } = samples;
    const { reach, range: correction, mount } = this.#setting;
    const bearing = new Float32Array(count);
    const range = new Float32Array(count);
    const kind = new Uint8Array(count);
    for (let i = 0; i < count; i++) {
      const direction = wrapAngle(this.sense * samples.bearing[i] + mount.yaw);
      bearing[i] = direction;
      if (samples.range[i] === 0) {
        range[i] = Infinity;
        kind[i] = SAMPLE_KIND.empty;
        continue;
      }
      const corrected = correction.scale * samples.range[i] + correction.offset;
      if (this.#isMasked(direction, corrected)) {
        range[i] = Infinity;
        kind[i] = SAMPLE_KIND.masked;
      } else {
        range[i] = Math.max(0, corrected);
        kind[i] = corrected < reach[0] ? SAMPLE_KIND.tooNear : SAMPLE_KIND.echo;
      }
    }
    return {
      count,
      time,
      bearing,
      range,
      strength: samples.strength.slice(0, count),
      kind,
      start: samples.start.slice(0, count),
      sense: this.sense,
    };
  }

  #isMasked(bearing: number, range: number): boolean {
    const { masks } = this.#setting;
    for (let k = 0; k < masks.length; k++) {
      const { from, to, upTo } = masks[k];
      const width = to - from >= TAU ? TAU : turnAngle(to - from);
      if (range <= upTo && turnAngle(bearing - from) <= width) return true;
    }
    return false;
  }
}
