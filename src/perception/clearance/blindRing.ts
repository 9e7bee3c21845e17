import type { ClearanceSetting } from './setting.js';

/** @returns m, how far the sensor's blind ring reaches beyond the outline, in the bearing where it is farthest. */
export function blindBeyondOutline({ outline, sensor, reach }: ClearanceSetting): number {
  let far = 0;
  for (let degree = 0; degree < 360; degree++) {
    const bearing = (degree * Math.PI) / 180;
    far = Math.max(
      far,
      outline.distance(sensor[0] + reach[0] * Math.cos(bearing), sensor[1] + reach[0] * Math.sin(bearing)),
    );
  }
  return far;
}
