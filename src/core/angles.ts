export const TAU = 2 * Math.PI;

/** @param angle rad, any finite. @returns the same direction, rad, [-π, π). */
export function wrapAngle(angle: number): number {
  const turned = angle - TAU * Math.floor((angle + Math.PI) / TAU);
  return turned >= Math.PI ? turned - TAU : turned; // rounding can land on π itself
}

/** @param angle rad, any finite. @returns the same direction, rad, [0, 2π). */
export function turnAngle(angle: number): number {
  const turned = angle - TAU * Math.floor(angle / TAU);
  return turned >= TAU ? 0 : turned;
}
