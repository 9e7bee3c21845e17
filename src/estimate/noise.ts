/** Range noise of a sensor: a constant part and one that grows with the square of the range, as triangulation makes it. */
export interface NoiseModel {
  /** m */
  readonly constant: number;
  /** 1/m */
  readonly growth: number;
}

/** A cheap spinning sensor: 5 mm near, 6 mm at 2 m, 30 mm at 6 m. Common practice for triangulating sensors of 12 m reach. */
export const DEFAULT_NOISE: NoiseModel = { constant: 0.005, growth: 0.005 / 6 };

/** @param range m. @returns m, standard deviation of one range. */
export function rangeSigma(noise: NoiseModel, range: number): number {
  const grown = noise.growth * range * range;
  return Math.sqrt(noise.constant * noise.constant + grown * grown);
}
