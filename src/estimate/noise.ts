/**
 * How a range's standard deviation grows: a constant part and one with the square of the range (triangulating finders).
 * Both are added as independent errors.
 */
export interface NoiseModel {
  /** m. */
  readonly constant: number;
  /** 1/m: standard deviation per squared range. */
  readonly growth: number;
}

/**
 * @param noise the sensor's model.
 * @param range m.
 * @returns m, one standard deviation of a range reading.
 */
export function rangeSigma(noise: NoiseModel, range: number): number {
  return Math.hypot(noise.constant, noise.growth * range * range);
}
