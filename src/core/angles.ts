export const TAU = 2 * Math.PI;

/** @param angle rad, any finite. @returns the same direction, rad, [-π, π). */
export function wrapAngle(angle: number): number {
  if (angle >= -Math.PI && angle < Math.PI) return angle; // exact, where the sum below would round out of the span
  const turned = angle - TAU * Math.floor((angle + Math.PI) / TAU);
  return turned >= -Math.PI && turned < Math.PI ? turned : -Math.PI; // rounding can land on π or a hair beyond either end
}

/** @param angle rad, any finite. @returns the same direction, rad, [0, 2π). */
export function turnAngle(angle: number): number {
  if (angle >= 0 && angle < TAU) return angle;
  const turned = angle - TAU * Math.floor(angle / TAU);
  return turned >= 0 && turned < TAU ? turned : 0; // a hair below 0 stays there, or rounds to 2π
}
